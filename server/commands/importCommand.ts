import { type DropReading, type LineCounts, type Problem, sayProblem } from "../../analysis/index.ts";
import { storeReading } from "../intake/drops.ts";
import { filesOfFolder, mappingsOfFolder, readAccepting } from "../intake/importFolder.ts";
import { isExport } from "../storage/export/readExport.ts";
import { type Command, readOptions, type Terminal, UsageError } from "./command.ts";
import { importExport } from "./importExport.ts";
import { withStore } from "./withStore.ts";

const shownOfAKind = 3;

/** `import FOLDER`: the sheets of a folder as one drop, the way the page does it. */
export const importCommand: Command = {
  name: "import",
  usage: "import FOLDER [--mappings FOLDER] [--accept-proposals] [--initials AB] [--data FOLDER]",
  about:
    "Reads all sheets of a folder as one drop, shows what they become and stores them. With open questions nothing is stored unless --accept-proposals says to take every proposal.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, {
      mappings: { type: "string" },
      "accept-proposals": { type: "boolean", default: false },
      initials: { type: "string" },
      data: { type: "string" },
    });
    const [folder, ...more] = positionals;
    if (folder === undefined || more.length > 0) throw new UsageError("import takes one folder.");
    if (await isExport(folder)) {
      const who = values.initials ?? "command line";
      return withStore<0 | 1>(values.data, terminal, (store) => importExport(folder, who, store, terminal));
    }
    const files = await filesOfFolder(folder);
    if (files.length === 0) {
      terminal.err(`There is no sheet in ${folder}. Sheets end in .csv, .tsv, .txt, .xlsx or .xlsm.`);
      return 1;
    }
    const broughtAlong =
      values.mappings === undefined ? { mappings: [], words: {} } : await mappingsOfFolder(values.mappings);

    return withStore<0 | 1>(values.data, terminal, async (store) => {
      const { reading, accepted } = await readAccepting(files, broughtAlong, store, values["accept-proposals"]);
      showReading(reading, terminal);
      const open = reading.confirmations.filter((confirmation) => !confirmation.answered);
      showConfirmations("Accepted as proposed:", accepted, terminal);
      showConfirmations("Still to be confirmed:", open, terminal);
      if (!reading.ready) {
        terminal.err(
          "Nothing was stored. Run the command again with --accept-proposals to take these proposals, or confirm them one by one on the drop page.",
        );
        return 1;
      }
      const who = values.initials ?? "command line";
      const batch = await storeReading({ reading, files, who, when: terminal.clock(), store });
      terminal.out(`Stored as batch ${batch.batch}: ${sayCounts(batch.counts)}.`);
      return 0;
    });
  },
};

function showReading({ files, linkProblems, setup, counts }: DropReading, { out }: Terminal): void {
  for (const { file, counts, mappingIs, problems } of files) {
    out(`${file}: ${sayCounts(counts)}. Mapping ${mappingIs}.`);
    showProblems(problems, out);
  }
  if (linkProblems.length > 0) {
    out("Links that lead nowhere:");
    showProblems(linkProblems, out);
  }
  if (setup.length > 0) out(`Rows that follow from the sheets: ${setup.length} (items, modes, tools).`);
  out(`All sheets: ${sayCounts(counts)}.`);
}

/** The first of each kind, those that cost a line before the others, and how many more there are like them. */
function showProblems(problems: readonly Problem[], out: Terminal["out"]): void {
  const kinds = new Map<string, Problem[]>();
  for (const problem of problems) {
    const kind = JSON.stringify([problem.severity, problem.code]);
    kinds.set(kind, [...(kinds.get(kind) ?? []), problem]);
  }
  for (const alike of [...kinds].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, each]) => each)) {
    for (const problem of alike.slice(0, shownOfAKind)) out(`  ${sayProblem(problem)}`);
    const more = alike.length - shownOfAKind;
    if (more > 0) out(`  and ${number(more)} more like these; after storing, all are listed with the batch.`);
  }
}

function showConfirmations(title: string, confirmations: DropReading["confirmations"], { out }: Terminal): void {
  if (confirmations.length === 0) return;
  out(title);
  for (const { question, proposed, why } of confirmations) {
    out(`  ${question}`);
    out(`    Proposed: ${proposed.replace(/\.$/, "")}. Why: ${why}`);
  }
}

/** "3,012 lines: 3,000 new, 0 unchanged, 0 changed, 12 set aside". */
const sayCounts = ({ lines, new: fresh, unchanged, changed, setAside }: LineCounts): string =>
  `${number(lines)} lines: ${number(fresh)} new, ${number(unchanged)} unchanged, ${number(changed)} changed, ${number(setAside)} set aside`;
const number = (value: number): string => value.toLocaleString("en-US");
