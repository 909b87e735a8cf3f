import { useState } from "preact/hooks";
import { countOf, type SetupReply, sayProblem, setupTables, tableDescriptors } from "../../../analysis/index.ts";
import { initials } from "../../state/initials.ts";
import { previewSetup, setupAddress, storeSetup } from "../../state/setupRequests.ts";
import { loadShopState } from "../../state/shopState.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { useWho, Who } from "../parts/Who.tsx";

/** A file that was chosen, with what it would change. */
interface InHand {
  readonly name: string;
  readonly bundle: object;
  readonly preview: SetupReply;
}

/** Words, item list, modes, compounds and mappings: saved as one file, and brought in from one after a look at it. */
export function SetupFile() {
  const [inHand, setInHand] = useState<InHand | null>(null);
  const [told, setTold] = useState({ words: "", wrong: false });
  const [busy, setBusy] = useState(false);
  const who = useWho();
  const work = async (task: () => Promise<string>) => {
    setBusy(true);
    try {
      setTold({ words: await task(), wrong: false });
    } catch (cause) {
      setTold({ words: cause instanceof Error ? cause.message : String(cause), wrong: true });
    } finally {
      setBusy(false);
    }
  };
  const choose = async (file: File) => {
    setInHand(null);
    const bundle = objectOf(await file.text());
    if (bundle === null) throw new Error(`${file.name} is not a file that Afterrun saved: it holds no JSON object.`);
    setInHand({ name: file.name, bundle, preview: await previewSetup(bundle) });
    return "";
  };
  const store = async ({ name, bundle }: InHand) => {
    const { stored } = await storeSetup(bundle, initials.value);
    setInHand(null);
    await loadShopState();
    return stored === null ? `All of ${name} was known already.` : `Stored as drop ${stored.batch}: ${name}.`;
  };
  return (
    <div>
      <p>
        What the shop's words mean, its items, modes and compounds, and how its sheets are read. Another store that
        takes the file in reads the same sheets the same way.
      </p>
      <div class="row-of-buttons">
        <a class="button" href={setupAddress} download>
          Save them as a file
        </a>
        <label class="button">
          Bring them in from a file…
          <input
            type="file"
            class="unseen"
            accept=".json,application/json"
            disabled={busy}
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              event.currentTarget.value = "";
              if (file !== undefined) void work(() => choose(file));
            }}
          />
        </label>
      </div>
      {inHand === null ? null : (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            if (who.settle()) void work(() => store(inHand));
          }}
        >
          <WhatItBrings inHand={inHand} />
          <div class="row-of-buttons">
            <Who who={who} words="Brought in by" label="Your initials, kept with it" />
            <button type="submit" class="main" disabled={busy || !inHand.preview.ready || isKnown(inHand.preview)}>
              Store it
            </button>
            <button type="button" class="plain" onClick={() => setInHand(null)}>
              Leave it
            </button>
          </div>
        </form>
      )}
      <p class={told.wrong ? "trouble" : undefined} role="status">
        {told.words}
      </p>
    </div>
  );
}

function WhatItBrings({ inHand: { name, preview } }: { readonly inHand: InHand }) {
  const { words, mappings, rows, problems } = preview;
  const changed = words.filter(({ what }) => what === "changed");
  return (
    <>
      <p>{isKnown(preview) ? `Everything in ${name} is known already.` : `${name} brings ${sayCounts(preview)}.`}</p>
      {changed.length === 0 ? null : (
        <DataTable
          caption="Words that would mean something else"
          rows={changed}
          keyOf={({ vocabulary, phrase }) => JSON.stringify([vocabulary, phrase])}
          columns={[
            { title: "Phrase", show: ({ phrase }) => phrase },
            { title: "Means now", show: ({ was }) => String(was ?? "not written down") },
            { title: "Would mean", show: ({ becomes }) => String(becomes ?? "not written down") },
          ]}
        />
      )}
      {mappings.some(({ what }) => what === "changed") ? (
        <p>
          Sheets read otherwise from then on:{" "}
          {mappings
            .filter(({ what }) => what === "changed")
            .map((mapping) => mapping.name)
            .join("; ")}
          .
        </p>
      ) : null}
      {rows.some(({ what }) => what === "changed") ? (
        <p>Rows that change: {rows.filter(({ what }) => what === "changed").length}; the drop can be taken back.</p>
      ) : null}
      {problems.map((problem) => (
        <p key={sayProblem(problem)} class={problem.severity === "error" ? "trouble" : "small"}>
          {sayProblem(problem)}
        </p>
      ))}
    </>
  );
}

const isKnown = ({ words, mappings, rows }: SetupReply): boolean =>
  words.length === 0 && [...mappings, ...rows].every(({ what }) => what === "unchanged");

/** "12 words, 3 mappings, 2 rows of items of a tool type". */
function sayCounts({ words, mappings, rows }: SetupReply): string {
  const moved = <T extends { readonly what: string }>(all: readonly T[]) =>
    all.filter(({ what }) => what !== "unchanged");
  const parts = [
    [words.length, "word"],
    [moved(mappings).length, "mapping"],
  ] as const;
  const tables = setupTables.map(
    (table) => [moved(rows).filter(({ row }) => row.table === table).length, tableDescriptors[table].title] as const,
  );
  return [
    ...parts.filter(([count]) => count > 0).map(([count, noun]) => countOf(count, noun)),
    ...tables
      .filter(([count]) => count > 0)
      .map(([count, title]) => `${countOf(count, "row")} of ${title.toLowerCase()}`),
  ].join(", ");
}

function objectOf(text: string): object | null {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null && !Array.isArray(value) ? value : null;
  } catch {
    return null;
  }
}
