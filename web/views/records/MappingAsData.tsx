import { useEffect, useState } from "preact/hooks";
import type { FilePreview, Mapping } from "../../../analysis/index.ts";

interface MappingAsDataProps {
  readonly file: FilePreview;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

/** The mapping is plain data: it can be read, kept, and edited by hand; the sheet is read again with it at once. */
export function MappingAsData({ file, disabled, onMapping }: MappingAsDataProps) {
  const written = JSON.stringify(file.mapping, null, 2);
  const [text, setText] = useState(written);
  const [trouble, setTrouble] = useState("");
  useEffect(() => {
    setText(written);
    setTrouble("");
  }, [written]);
  const apply = () => {
    try {
      onMapping(JSON.parse(text) as Mapping);
    } catch (cause) {
      setTrouble(`This is not JSON yet: ${cause instanceof Error ? cause.message : String(cause)}.`);
    }
  };
  return (
    <details class="how">
      <summary>The same as data, to keep or to edit</summary>
      <label class="field">
        The mapping of {file.file} as data (JSON)
        <textarea rows={16} spellcheck={false} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      {trouble === "" ? null : (
        <p class="trouble" role="alert">
          {trouble}
        </p>
      )}
      <p class="after-list">
        <button type="button" disabled={disabled || text === written} onClick={apply}>
          Read the sheet with this
        </button>
      </p>
    </details>
  );
}
