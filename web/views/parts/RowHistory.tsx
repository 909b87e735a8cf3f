import { useState } from "preact/hooks";
import {
  type CellStep,
  type FieldDescriptor,
  formatDate,
  nameOfSheet,
  type RowRef,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { fetchRowHistory } from "../../state/api.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "./Answered.tsx";
import { DataTable } from "./DataTable.tsx";
import { sayValue } from "./StoredRecord.tsx";

/**
 * What became of a row, or of one of its cells: old value, new value, which drop or answer, who, when and why.
 *
 * `version` names the row as it stands: another one is looked up anew.
 */
export function RowHistory({ row, version }: { readonly row: RowRef; readonly version: string }) {
  const [open, setOpen] = useState(false);
  const [field, setField] = useState<string | null>(null);
  const fields: readonly FieldDescriptor[] = tableDescriptors[row.table].fields;
  const loaded = useLoaded(open ? JSON.stringify([row.table, row.key, field, version]) : null, (signal) =>
    fetchRowHistory(row, field, signal),
  );
  return (
    <details class="how row-history" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>What became of it: every drop, correction and answer</summary>
      {open ? (
        <>
          <label class="field filter">
            Cell
            <select value={field ?? ""} onChange={(event) => setField(event.currentTarget.value || null)}>
              <option value="">all that changed</option>
              {fields.map(({ name, title }) => (
                <option key={name} value={name}>
                  {title}
                </option>
              ))}
            </select>
          </label>
          <Answered loaded={loaded} waitingWords="Looking the history up…" failureTitle="The history cannot be shown">
            {({ steps }) => (
              <DataTable
                caption="Oldest first"
                rows={steps.map((step, index) => ({ ...step, index }))}
                keyOf={({ index }) => String(index)}
                columns={[
                  { title: "When", show: ({ when }) => formatDate(when.slice(0, 10)) },
                  { title: "Cell", show: (step) => titleOf(fields, step) },
                  { title: "Old", show: (step) => sayCell(fields, step, step.was) },
                  { title: "New", show: (step) => <strong>{sayCell(fields, step, step.becomes)}</strong> },
                  { title: "By", show: sayBy },
                  { title: "Who", show: ({ who }) => who },
                  { title: "Why", show: ({ why }) => <span class="reason">{why ?? ""}</span> },
                ]}
              />
            )}
          </Answered>
        </>
      ) : null}
    </details>
  );
}

const titleOf = (fields: readonly FieldDescriptor[], { field }: CellStep): string =>
  field === null ? "the whole row" : (fields.find(({ name }) => name === field)?.title ?? field);

function sayCell(fields: readonly FieldDescriptor[], { field: name, by }: CellStep, value: unknown): string {
  if (name === null || (by.kind === "answer" && by.verdict !== "correct")) return "";
  const field = fields.find((each) => each.name === name);
  return field === undefined ? String(value) : sayValue(field, value);
}

/** "brought in by drop 3: runs.csv, line 12"; "left out of every study; out of date since". */
function sayBy({ by, row }: CellStep): string {
  if (by.kind === "answer") return `${verdictWords[by.verdict]}${stateWords[by.state]}`;
  const source = by.origin === null ? "" : `: ${sayOrigin(by.origin)}`;
  const what = row === undefined ? "" : `${row} by `;
  return by.kind === "undo"
    ? `${what}drop ${by.batch}, which takes drop ${by.undoes} back`
    : `${what}drop ${by.batch}${source}`;
}

const sayOrigin = (origin: { readonly file: string; readonly sheet: string | null; readonly line: number }): string =>
  origin.file === "" ? "confirmed by hand" : `${nameOfSheet(origin)}, line ${origin.line}`;

const verdictWords = {
  accept: "found right as written",
  correct: "corrected beside the sheet",
  exclude: "left out of every study",
  reopen: "answer taken back",
} as const;
const stateWords = {
  applied: "",
  stale: "; out of date: the sheet says something else now",
  superseded: "; answered anew since",
  refused: "; does not fit the column",
} as const;
