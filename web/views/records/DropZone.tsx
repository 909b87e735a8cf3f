import { useState } from "preact/hooks";

/** Takes sheets by drag or by the file dialog; several at once are one drop. */
export function DropZone({
  busy,
  onFiles,
}: {
  readonly busy: string | null;
  readonly onFiles: (files: readonly File[]) => void;
}) {
  const [over, setOver] = useState(false);
  const take = (list: FileList | null | undefined) => {
    const files = [...(list ?? [])];
    if (files.length > 0 && busy === null) onFiles(files);
  };
  return (
    <>
      <p class="answer">Drop in the sheets your shop keeps. You see how each line is read before anything is stored.</p>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: dragging is a second way; the file field inside is the first */}
      <div
        class="card drop-zone"
        data-over={over}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          take(event.dataTransfer?.files);
        }}
      >
        <label class="field">
          Sheets as CSV, text or workbook (.xlsx): builds and redresses, runs, teardowns. Several at once are one drop.
          <input
            type="file"
            multiple
            accept=".csv,.txt,.tsv,.xlsx,text/csv,text/plain,text/tab-separated-values"
            disabled={busy !== null}
            onChange={(event) => {
              take(event.currentTarget.files);
              event.currentTarget.value = "";
            }}
          />
        </label>
        <p class="muted small" aria-live="polite">
          {busy ?? "Drag them here, or choose them."}
        </p>
      </div>
    </>
  );
}
