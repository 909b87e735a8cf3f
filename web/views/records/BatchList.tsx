import { useState } from "preact/hooks";
import { countOf, formatDate, formatExact, type StoredBatch, sayLineCounts } from "../../../analysis/index.ts";
import { fetchBatch } from "../../state/api.ts";
import { repairAddress } from "../../state/dropRequests.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SetAside } from "./SetAside.tsx";
import { UndoForm } from "./UndoForm.tsx";

const atFirst = 12;

/** Every drop, the newest first; unfolded, its files, the lines to mend, and the way to take it back. */
export function BatchList({ batches }: { readonly batches: readonly StoredBatch[] }) {
  const [all, setAll] = useState(false);
  const newest = [...batches].reverse();
  const undone = new Set(batches.flatMap(({ undoes }) => (undoes === undefined ? [] : [undoes])));
  return (
    <div>
      <ol class="batches">
        {(all ? newest : newest.slice(0, atFirst)).map((batch) => (
          <li key={batch.batch}>
            <Batch batch={batch} undone={undone.has(batch.batch)} />
          </li>
        ))}
      </ol>
      {newest.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the last ${atFirst}` : `All ${formatExact(newest.length)} drops`}
        </button>
      ) : null}
    </div>
  );
}

function Batch({ batch, undone }: { readonly batch: StoredBatch; readonly undone: boolean }) {
  const [open, setOpen] = useState(false);
  const { counts, files } = batch;
  const names = files.map(({ file }) => file);
  return (
    <details class="batch" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <span class="batch-line">
          <strong>Drop {batch.batch}</strong>
          <span>
            {formatDate(batch.storedAt.slice(0, 10))}, {batch.who}
          </span>
          <span>
            {batch.undoes === undefined
              ? names.length === 0
                ? "written in a form"
                : `${names.slice(0, 2).join(", ")}${names.length > 2 ? ` and ${countOf(names.length - 2, "more", "more")}` : ""}`
              : `takes drop ${batch.undoes} back`}
            {undone ? <span class="muted">, taken back since</span> : null}
          </span>
          <span class="muted">{counts.lines === 0 ? "" : sayLineCounts(counts)}</span>
        </span>
      </summary>
      {open ? (
        <div class="batch-body">
          {files.length === 0 ? null : (
            <DataTable
              caption={`Files of drop ${batch.batch}`}
              hideCaption
              rows={files}
              keyOf={({ file }) => file}
              columns={[
                { title: "File", show: ({ file }) => file },
                { title: "Lines", numeric: true, show: ({ counts: own }) => formatExact(own.lines) },
                { title: "New", numeric: true, show: ({ counts: own }) => formatExact(own.new) },
                { title: "Unchanged", numeric: true, show: ({ counts: own }) => formatExact(own.unchanged) },
                { title: "Changed", numeric: true, show: ({ counts: own }) => formatExact(own.changed) },
                { title: "Set aside", numeric: true, show: ({ counts: own }) => formatExact(own.setAside) },
              ]}
            />
          )}
          {counts.setAside === 0 ? null : <StoredAside batch={batch.batch} />}
          <UndoForm batch={batch.batch} />
        </div>
      ) : null}
    </details>
  );
}

/** The lines of a stored batch that were set aside, told apart by file and tab. */
function StoredAside({ batch }: { readonly batch: number }) {
  const loaded = useLoaded(`batch ${batch}`, (signal) => fetchBatch(batch, signal));
  if (loaded.failure !== null) return <p class="trouble">{loaded.failure.message}</p>;
  const counts = new Map<string, { file: string; sheet: string | null; setAside: number }>();
  for (const { origin } of loaded.value?.setAsideLines ?? []) {
    const key = JSON.stringify([origin.file, origin.sheet]);
    const known = counts.get(key) ?? { file: origin.file, sheet: origin.sheet, setAside: 0 };
    counts.set(key, { ...known, setAside: known.setAside + 1 });
  }
  return <SetAside sheets={[...counts.values()]} addressOf={(file, tab) => repairAddress(batch, file, tab)} />;
}
