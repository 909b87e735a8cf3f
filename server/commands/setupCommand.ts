import { readFile, writeFile } from "node:fs/promises";
import { type SetupReply, sayProblem, setupTables, tableDescriptors } from "../../analysis/index.ts";
import { setupBundle } from "../contracts/setup.ts";
import { bringSetup, setupOf } from "../intake/setup.ts";
import { parseBody } from "../routes/parse.ts";
import { RequestError } from "../routes/requestError.ts";
import type { Store } from "../storage/store.ts";
import { type Command, readOptions, type Terminal, UsageError } from "./command.ts";
import { withStore } from "./withStore.ts";

/** `setup export FILE`, `setup import FILE`: words, item list, modes, compounds and mappings as one file. */
export const setupCommand: Command = {
  name: "setup",
  usage: "setup export|import FILE [--preview] [--initials AB] [--data FOLDER]",
  about:
    "Writes words, item list, modes, compounds and mappings into one file, or takes such a file in; --preview only says what it would change.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, {
      preview: { type: "boolean", default: false },
      initials: { type: "string" },
      data: { type: "string" },
    });
    const [way, file, ...more] = positionals;
    if ((way !== "export" && way !== "import") || file === undefined || more.length > 0)
      throw new UsageError("setup takes export or import, and one file.");
    return withStore<0 | 1>(values.data, terminal, (store) =>
      way === "export"
        ? writeSetup(file, store, terminal)
        : readSetup(file, values.preview ? null : (values.initials ?? "command line"), store, terminal),
    );
  },
};

async function writeSetup(file: string, store: Store, terminal: Terminal): Promise<0> {
  const bundle = await setupOf(store);
  // Never over a file that is there.
  await writeFile(file, `${JSON.stringify(bundle, null, 1)}\n`, { flag: "wx" });
  const phrases = Object.values(bundle.words ?? {}).reduce((sum, each) => sum + Object.keys(each).length, 0);
  const rows = setupTables.map((table) => `${bundle.tables?.[table]?.length ?? 0} of ${titleOf(table)}`).join(", ");
  terminal.out(`Wrote ${phrases} phrases, ${bundle.mappings?.length ?? 0} mappings, rows: ${rows} to ${file}.`);
  return 0;
}

async function readSetup(file: string, who: string | null, store: Store, terminal: Terminal): Promise<0 | 1> {
  const text = await readFile(file, "utf8");
  const reply = await bringSetup({
    bundle: parseBody(setupBundle, jsonOf(text, file)),
    store,
    when: terminal.clock(),
    who,
  });
  showReply(reply, terminal);
  if (reply.stored !== null) terminal.out(`Stored as batch ${reply.stored.batch}.`);
  else
    terminal.out(who === null ? "Nothing was stored: this was a preview." : "Nothing was stored: all of it was known.");
  return reply.ready ? 0 : 1;
}

function jsonOf(text: string, file: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new RequestError("bad-body", { place: file, problem: "it is not JSON" });
  }
}

function showReply({ words, mappings, rows, problems }: SetupReply, { out }: Terminal): void {
  const count = <T extends { readonly what: string }>(all: readonly T[], what: string) =>
    all.filter((each) => each.what === what).length;
  out(`Words: ${count(words, "new")} new, ${count(words, "changed")} changed.`);
  for (const { vocabulary, phrase, was, becomes } of words.filter(({ what }) => what === "changed"))
    out(`  ${vocabulary}: "${phrase}" meant ${String(was)}, will mean ${String(becomes)}`);
  for (const what of ["new", "changed", "unchanged"] as const) {
    const names = mappings.filter((each) => each.what === what).map(({ name }) => name);
    if (names.length > 0) out(`Mappings ${what}: ${names.join(", ")}.`);
  }
  for (const table of setupTables) {
    const own = rows.filter(({ row }) => row.table === table);
    out(
      `${titleOf(table)}: ${count(own, "new")} new, ${count(own, "changed")} changed, ${count(own, "unchanged")} unchanged.`,
    );
  }
  for (const problem of problems) out(`  ${sayProblem(problem)}`);
}

const titleOf = (table: (typeof setupTables)[number]): string => tableDescriptors[table].title.toLowerCase();
