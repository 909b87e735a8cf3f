import { useEffect, useState } from "preact/hooks";
import { type FilePreview, formatExact, type Mapping, nameOfSheet } from "../../../analysis/index.ts";
import { fetchMappings } from "../../state/dropRequests.ts";
import { fileName, saveFile } from "../../state/saveFile.ts";
import { useLoaded } from "../../state/useLoaded.ts";

interface MappingAsDataProps {
  readonly file: FilePreview;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

/** The mapping is plain data: it can be saved, read in from a file, and edited; the sheet is read again with it at once. */
export function MappingAsData({ file, disabled, onMapping }: MappingAsDataProps) {
  const { mapping, mappingIs } = file;
  const written = JSON.stringify(mapping, null, 2);
  const [text, setText] = useState(written);
  const [trouble, setTrouble] = useState("");
  const [opened, setOpened] = useState(false);
  const known = useLoaded(opened ? "mappings" : null, fetchMappings);
  const others = likeliest(known.value ?? [], mapping);
  useEffect(() => {
    setText(written);
    setTrouble("");
  }, [written]);
  const apply = (json: string) => {
    try {
      onMapping(forThisSheet(JSON.parse(json), mapping));
      setTrouble("");
    } catch (cause) {
      setTrouble(`This is not JSON yet: ${cause instanceof Error ? cause.message : String(cause)}.`);
    }
  };
  const name = nameOfSheet(file);
  return (
    <details class="how" onToggle={(event) => setOpened(event.currentTarget.open)}>
      <summary>The mapping as data: version {formatExact(mapping.version)}, to save, bring in or edit</summary>
      <div class="mapping-data">
        <p class="small muted">
          {mappingIs === "remembered"
            ? "Confirmed before and found again by its headers. A change makes the next version; earlier drops keep theirs."
            : `Kept as version ${formatExact(mapping.version)} when the drop is stored, and found again by its headers.`}
        </p>
        <div class="row-of-buttons">
          <button
            type="button"
            onClick={() =>
              saveFile(
                fileName(["mapping", mapping.name, `v${mapping.version}`], "json"),
                new Blob([`${written}\n`], { type: "application/json" }),
              )
            }
          >
            Save as JSON<span class="unseen">: the mapping of {name}</span>
          </button>
          <label class="field">
            Bring a saved mapping in for {name}
            <input
              type="file"
              accept=".json,application/json"
              disabled={disabled}
              onChange={(event) => {
                const [chosen] = event.currentTarget.files ?? [];
                event.currentTarget.value = "";
                if (chosen !== undefined) void chosen.text().then(apply);
              }}
            />
          </label>
          {others.length === 0 ? null : (
            <label class="field">
              Or read {name} like an earlier sheet
              <select
                disabled={disabled}
                value=""
                onChange={(event) => {
                  const picked = others[Number(event.currentTarget.value)];
                  if (event.currentTarget.value !== "" && picked !== undefined)
                    onMapping({ ...picked, fingerprint: mapping.fingerprint, format: mapping.format });
                }}
              >
                <option value="">choose…</option>
                {others.map((other, index) => (
                  <option key={other.fingerprint} value={index}>
                    {other.name}, version {other.version}: {sharedHeaders(other, mapping)} of the same headers
                  </option>
                ))}
              </select>
            </label>
          )}
        </div>
        <label class="field">
          The mapping of {name} (JSON)
          <textarea rows={16} spellcheck={false} value={text} onInput={(event) => setText(event.currentTarget.value)} />
        </label>
        {trouble === "" ? null : (
          <p class="trouble" role="alert">
            {trouble}
          </p>
        )}
        <p>
          <button type="button" disabled={disabled || text === written} onClick={() => apply(text)}>
            Read the sheet with this
          </button>
        </p>
      </div>
    </details>
  );
}

/** Mappings of other shapes of sheet, those first that share the most headers with this one. */
const likeliest = (known: readonly Mapping[], mapping: Mapping): readonly Mapping[] =>
  known
    .filter((other) => other.fingerprint !== mapping.fingerprint && sharedHeaders(other, mapping) > 0)
    .sort((a, b) => sharedHeaders(b, mapping) - sharedHeaders(a, mapping));

const sharedHeaders = (one: Mapping, other: Mapping): number => {
  const headers = new Set(headersOf(other));
  return headersOf(one).filter((header) => headers.has(header)).length;
};

/** A fingerprint is the JSON array of the headers; one that is not names none. */
function headersOf({ fingerprint }: Mapping): readonly string[] {
  try {
    const headers: unknown = JSON.parse(fingerprint);
    return Array.isArray(headers) ? headers.filter((header) => typeof header === "string") : [];
  } catch {
    return [];
  }
}

/**
 * A mapping saved from another sheet serves this one where the columns it asks for are here; what is missing shows as a
 * problem. It is remembered under this sheet's headers.
 */
function forThisSheet(read: unknown, { fingerprint }: Mapping): Mapping {
  return { ...(read as Mapping), fingerprint };
}
