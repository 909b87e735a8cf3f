import {
  type Confirmation,
  type DropAnswers,
  type DropPreview,
  type FilePreview,
  type Mapping,
  nameOfSheet,
  targetsOf,
  withTarget,
} from "../../../analysis/index.ts";
import { mappingEdit, notFilledDown, withDateOrder } from "../../state/dropEdits.ts";
import { dateOrders, dateOrderWords } from "./DateOrderSelect.tsx";
import { ProposedWords } from "./ProposedWords.tsx";
import { RenewalForm } from "./RenewalForm.tsx";
import { SetupForm } from "./SetupForm.tsx";
import { sheetAnchor } from "./sheetAnchor.ts";
import { UnitSelect } from "./UnitSelect.tsx";

interface OtherwiseProps {
  readonly confirmation: Confirmation;
  readonly preview: DropPreview;
  readonly disabled: boolean;
  readonly onAnswer: (answers: DropAnswers) => void;
}

/** What can be said instead of "yes, so it is", at the question itself. */
export function Otherwise({ confirmation, preview, disabled, onAnswer }: OtherwiseProps) {
  const { kind, about, words } = confirmation;
  if (kind === "words" && words !== undefined)
    return (
      <ProposedWords
        preview={preview}
        words={words}
        disabled={disabled}
        onWords={(given) => onAnswer({ words: given })}
      />
    );
  if (kind === "tools" || kind === "items" || kind === "modes")
    return <SetupForm kind={kind} setup={preview.setup} disabled={disabled} onSetup={(setup) => onAnswer({ setup })} />;
  const file = preview.files.find(({ mapping }) => mapping.fingerprint === about?.fingerprint);
  if (file === undefined || about === undefined) return null;
  const change = (mapping: Mapping) => onAnswer({ mappings: mappingEdit(preview.files, file, mapping) });
  if (kind === "added rows") return <RenewalForm mapping={file.mapping} disabled={disabled} onMapping={change} />;
  if (kind === "date order")
    return (
      <p class="row-of-buttons">
        {dateOrders
          .filter((order) => order !== file.mapping.format.dateOrder[about.headers[0] ?? ""])
          .map((order) => (
            <button
              key={order}
              type="button"
              disabled={disabled}
              onClick={() => change(withDateOrder(file.mapping, about.headers[0] ?? "", order))}
            >
              No: {dateOrderWords[order]}
            </button>
          ))}
      </p>
    );
  if (kind === "unit") return <Units file={file} headers={about.headers} disabled={disabled} onMapping={change} />;
  if (confirmation.id.startsWith("filled:"))
    return (
      <p>
        <button type="button" disabled={disabled} onClick={() => change(notFilledDown(file.mapping, about.headers))}>
          No, a blank there is not known
        </button>
      </p>
    );
  return (
    <p class="small">
      <a href={`#${sheetAnchor(file)}`}>Its {about.headers.length} columns, to look at or to change</a>
    </p>
  );
}

interface UnitsProps {
  readonly file: FilePreview;
  readonly headers: readonly string[];
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

const Units = ({ file, headers, disabled, onMapping }: UnitsProps) => (
  <p class="row-of-buttons">
    {headers.flatMap((header) =>
      targetsOf(file.mapping, header)
        .filter(({ unit }) => unit !== null)
        .map((target) => (
          <span key={`${header} ${target.table} ${target.field}`} class="field">
            <span>{header}</span>
            <UnitSelect
              label={`Unit of the column ${header} of ${nameOfSheet(file)}`}
              unit={target.unit ?? ""}
              disabled={disabled}
              onPick={(unit) => onMapping(withTarget(file.mapping, header, target, { ...target, unit }))}
            />
          </span>
        )),
    )}
  </p>
);
