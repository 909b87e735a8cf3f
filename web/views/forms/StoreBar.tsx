import { useState } from "preact/hooks";
import {
  countOf,
  type FieldDescriptor,
  type FormEntry,
  type FormPreview,
  type Problem,
  type StoredBatch,
  sayProblem,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { previewRows, storeRows } from "../../state/formRequests.ts";
import { initials } from "../../state/initials.ts";
import { loadShopState } from "../../state/shopState.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { keyWords } from "../parts/keyWords.ts";
import { useWho, Who } from "../parts/Who.tsx";
import { withoutPlace } from "../parts/withoutPlace.ts";
import { WhatChanges } from "./WhatChanges.tsx";

interface StoreBarProps {
  readonly entries: readonly FormEntry[];
  /** What is missing before anything can be stored; null where nothing is. */
  readonly missing: string | null;
  /** What was written, in few words. */
  readonly says: string;
  /** Every row is a new one: a row of that name that is stored already is refused, never overwritten. */
  readonly adds?: boolean;
  readonly onStored?: (batch: StoredBatch) => void;
}

/** Always in reach at the foot of a form: what would change, who writes it, and the one control that stores it. */
export function StoreBar({ entries, missing, says, adds = false, onStored }: StoreBarProps) {
  const [busy, setBusy] = useState(false);
  const [told, setTold] = useState<{ readonly words: string; readonly wrong: boolean }>({ words: "", wrong: false });
  const [why, setWhy] = useState("");
  const who = useWho();
  const key = missing === null ? JSON.stringify(entries) : null;
  const loaded = useLoaded(key, (signal) => previewRows(entries, signal));
  const preview = key === null || loaded.waiting ? null : loaded.value;
  const taken = adds ? (preview?.rows ?? []).filter(({ what }) => what !== "new") : [];
  const changes = (preview?.rows ?? []).some(({ what }) => what === "changed");
  const store = async () => {
    if (!who.settle()) return;
    setBusy(true);
    try {
      const batch = await storeRows(entries, initials.value, changes ? why.trim() : "");
      setTold({ words: `Stored as drop ${batch.batch}: ${says}. Written by ${batch.who}.`, wrong: false });
      await loadShopState();
      setWhy("");
      onStored?.(batch);
    } catch (cause) {
      setTold({ words: cause instanceof Error ? cause.message : String(cause), wrong: true });
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      class="store-bar"
      onSubmit={(event) => {
        event.preventDefault();
        void store();
      }}
    >
      <div class="store-bar-words" aria-live="polite">
        <p>
          <strong>{says === "" ? "Nothing written yet" : says}</strong>
          {missing === null ? <span class="muted"> {preview === null ? "" : sayPreview(preview)}</span> : null}
          {missing === null || says === "" ? null : <span class="muted"> {missing}</span>}
        </p>
        {preview === null ? null : (
          <>
            {preview.problems.map((problem) => (
              <p
                key={`${problem.column} ${sayProblem(problem)}`}
                class={problem.severity === "error" ? "trouble" : "small"}
              >
                {fieldTitle(problem)}
                {withoutPlace(problem)}
              </p>
            ))}
            {taken.length === 0 ? (
              <WhatChanges preview={preview} />
            ) : (
              <p class="trouble">
                {taken.map(({ row }) => `${tableDescriptors[row.table].title} ${keyWords(row.key)}`).join("; ")} is
                stored already. Give it another name, or fix the stored one.
              </p>
            )}
          </>
        )}
        {loaded.failure === null ? null : <p class="trouble">{loaded.failure.message}</p>}
        <p class={told.wrong ? "trouble" : undefined} role="status">
          {told.words}
        </p>
      </div>
      {changes ? (
        <label class="field why">
          Why it changes
          <input value={why} maxLength={500} onInput={(event) => setWhy(event.currentTarget.value)} />
        </label>
      ) : null}
      <Who who={who} words="Written by" label="Your initials, kept with it" />
      <button
        type="submit"
        class="main tap"
        disabled={busy || missing !== null || preview?.ready !== true || taken.length > 0}
      >
        Store
      </button>
    </form>
  );
}

/** "Adds 1 row to teardowns and tests, 2 rows to findings. Changes 1 row of runs." */
function sayPreview({ rows }: FormPreview): string {
  const say = (verb: string, of: string, what: FormPreview["rows"][number]["what"]): string => {
    const tables = [...new Set(rows.filter((row) => row.what === what).map(({ row }) => row.table))];
    const parts = tables.map((table) => {
      const count = rows.filter((row) => row.what === what && row.row.table === table).length;
      return `${countOf(count, "row")} ${of} ${tableDescriptors[table].title.toLowerCase()}`;
    });
    return parts.length === 0 ? "" : `${verb} ${parts.join(", ")}.`;
  };
  const said = [say("Adds", "to", "new"), say("Changes", "of", "changed")].filter((part) => part !== "");
  return said.length === 0 ? "All of it is stored already." : said.join(" ");
}

/** "Severity: ", where a problem is about one field. */
function fieldTitle({ column, facts }: Problem): string {
  const tables: readonly { readonly name: string; readonly fields: readonly FieldDescriptor[] }[] =
    Object.values(tableDescriptors);
  const fields = tables
    .filter(({ name }) => facts.table === undefined || facts.table === name)
    .flatMap((table) => table.fields);
  const title = fields.find(({ name }) => name === column)?.title ?? column;
  return title === null ? "" : `${title}: `;
}
