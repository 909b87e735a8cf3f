import { useState } from "preact/hooks";
import { countOf, type PastedSheet } from "../../../analysis/index.ts";

interface PasteFormProps {
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly onPaste: (sheet: PastedSheet) => void;
}

/** Cells copied from a spreadsheet, with their header line: read like a file of that name. */
export function PasteForm({ text, onText, onPaste }: PasteFormProps) {
  const [name, setName] = useState("");
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "");
  const columns = Math.max(0, ...lines.slice(0, 50).map((line) => line.split("\t").length));
  return (
    <details class="how paste" open={text !== ""}>
      <summary>Or paste cells from a spreadsheet</summary>
      <form
        class="paste-form"
        onSubmit={(event) => {
          event.preventDefault();
          if (lines.length > 0) onPaste(name.trim() === "" ? { text } : { text, name: name.trim() });
        }}
      >
        <label class="field">
          The cells, with the line of headers on top
          <textarea
            rows={6}
            spellcheck={false}
            wrap="off"
            value={text}
            onInput={(event) => onText(event.currentTarget.value)}
          />
        </label>
        <div class="row-of-buttons">
          <label class="field filter">
            A name to know it by, if you like
            <input
              value={name}
              maxLength={120}
              autocomplete="off"
              placeholder="pasted sheet"
              onInput={(event) => setName(event.currentTarget.value)}
            />
          </label>
          <button type="submit" class="main" disabled={lines.length === 0}>
            Read these cells
          </button>
          <p class="small muted" aria-live="polite">
            {lines.length === 0 ? "" : `${countOf(lines.length, "line")}, ${countOf(columns, "column")}`}
          </p>
        </div>
      </form>
    </details>
  );
}
