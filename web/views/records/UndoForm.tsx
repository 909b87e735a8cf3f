import { useState } from "preact/hooks";
import { countOf, tableDescriptors, type UndoReply } from "../../../analysis/index.ts";
import { previewUndo, undoBatch } from "../../state/api.ts";
import { initials } from "../../state/initials.ts";
import { loadShopState } from "../../state/shopState.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { useWho, Who } from "../parts/Who.tsx";

/** Taking a drop back: first what it would change, then as a drop of its own, which can be taken back too. */
export function UndoForm({ batch }: { readonly batch: number }) {
  const [preview, setPreview] = useState<UndoReply | null>(null);
  const [told, setTold] = useState("");
  const [busy, setBusy] = useState(false);
  const who = useWho();
  const work = async (task: () => Promise<void>) => {
    setBusy(true);
    setTold("");
    try {
      await task();
    } catch (cause) {
      setTold(cause instanceof Error ? cause.message : String(cause));
    } finally {
      setBusy(false);
    }
  };
  if (preview === null)
    return (
      <div>
        <p>
          <button
            type="button"
            disabled={busy}
            onClick={() => void work(async () => setPreview(await previewUndo(batch)))}
          >
            Take this drop back…<span class="unseen"> (drop {batch})</span>
          </button>
        </p>
        <p class="trouble" role="alert">
          {told}
        </p>
      </div>
    );
  return (
    <form
      class="undo"
      onSubmit={(event) => {
        event.preventDefault();
        if (!who.settle()) return;
        void work(async () => {
          await undoBatch(batch, initials.value);
          await loadShopState();
        });
      }}
    >
      <p>{sayUndo(preview)}</p>
      {preview.keptRows.length === 0 ? null : (
        <DataTable
          caption={`Rows that a later drop changed (${preview.kept})`}
          rows={preview.keptRows.slice(0, 8)}
          keyOf={({ table, key }) => `${table} ${key}`}
          columns={[
            { title: "Row", show: ({ table, key }) => `${tableDescriptors[table].title}: ${keyWords(key)}` },
            { title: "Changed by", show: ({ changedBy }) => `drop ${changedBy}` },
          ]}
        />
      )}
      <div class="row-of-buttons">
        <Who who={who} words="Taken back by" label="Your initials, kept with it" />
        <button type="submit" disabled={busy}>
          Take drop {batch} back
        </button>
        <button type="button" class="plain" onClick={() => setPreview(null)}>
          Leave it
        </button>
      </div>
      <p class="trouble" role="alert">
        {told}
      </p>
    </form>
  );
}

function sayUndo({ removed, restored, returned, kept }: UndoReply): string {
  const parts = [
    [removed, "leaves", "leave"],
    [restored, "goes back to its former values", "go back to their former values"],
    [returned, "comes back", "come back"],
    [kept, "stays as a later drop left it", "stay as a later drop left them"],
  ] as const;
  const said = parts
    .filter(([count]) => count > 0)
    .map(([count, one, more]) => `${countOf(count, "row")} ${count === 1 ? one : more}`);
  return said.length === 0 ? "Nothing in the records would change." : `${said.join(", ")}.`;
}
