import { useEffect, useState } from "preact/hooks";
import type { PastedSheet } from "../../../analysis/index.ts";
import { PasteForm } from "./PasteForm.tsx";

interface DropZoneProps {
  /** What became of the drop before, where something did. */
  readonly told: string | null;
  readonly onFiles: (files: readonly File[]) => void;
  readonly onPaste: (sheet: PastedSheet) => void;
}

/** Takes sheets by drag, by the file dialog or from the clipboard; several at once are one drop. */
export function DropZone({ told, onFiles, onPaste }: DropZoneProps) {
  const [over, setOver] = useState(false);
  const [pasted, setPasted] = useState("");
  const take = (list: FileList | null | undefined) => {
    const files = [...(list ?? [])];
    if (files.length > 0) onFiles(files);
  };
  useEffect(() => {
    // Pasted anywhere on this page: cells come as text, a file copied in a file manager as a file.
    const listen = (event: ClipboardEvent) => {
      const { target, clipboardData } = event;
      if (target instanceof HTMLTextAreaElement || target instanceof HTMLInputElement || clipboardData === null) return;
      if (clipboardData.files.length > 0) return take(clipboardData.files);
      const text = clipboardData.getData("text/plain");
      if (text.trim() !== "") setPasted(text);
    };
    window.addEventListener("paste", listen);
    return () => window.removeEventListener("paste", listen);
  });
  return (
    <>
      <p class="answer">Drop in the sheets your shop keeps. You see how each line is read before anything is stored.</p>
      {told === null ? null : (
        <p class="answer-actions" role="status">
          {told}
        </p>
      )}
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
          Sheets as CSV, text or workbook (.xlsx): builds and redresses, runs, teardowns. Several at once are one drop;
          each tab of a workbook is read by itself.
          <input
            type="file"
            multiple
            accept=".csv,.txt,.tsv,.xlsx,.xlsm,text/csv,text/plain,text/tab-separated-values"
            onChange={(event) => {
              take(event.currentTarget.files);
              event.currentTarget.value = "";
            }}
          />
        </label>
        <p class="muted small">Drag them here, or choose them.</p>
      </div>
      <PasteForm text={pasted} onText={setPasted} onPaste={onPaste} />
    </>
  );
}
