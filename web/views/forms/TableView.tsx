import { useState } from "preact/hooks";
import { countOf, type FieldDescriptor, type FormEntry } from "../../../analysis/index.ts";
import { changedRow, sameCell } from "../../state/changedRow.ts";
import { fetchTable } from "../../state/formRequests.ts";
import { descriptionOf, type FormTable, fieldsOf, keyFieldsOf, titleOf } from "../../state/formTables.ts";
import { planTables } from "../../state/planDefaults.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { offersOf, sourceOf } from "../../state/tableDefaults.ts";
import { typedRow, typedValue } from "../../state/typedValue.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Answered } from "../parts/Answered.tsx";
import { Link } from "../parts/Link.tsx";
import { FieldInput } from "./FieldInput.tsx";
import { StoreBar } from "./StoreBar.tsx";

type Values = Readonly<Record<string, unknown>>;

interface EditedRow {
  /** Null for a row that is not stored yet. */
  readonly stored: Values | null;
  readonly typed: Values;
}

/** A table of the records, to be edited in place: every stored row, and rows added under them. */
export function TableView({ table, dataHash }: { readonly table: FormTable; readonly dataHash: string }) {
  const loaded = useLoaded(`table ${table} ${dataHash}`, (signal) => fetchTable(table, signal));
  return (
    <>
      <p class="answer">{titleOf(table)}</p>
      <p class="answer-actions small">
        <span class="muted">{descriptionOf(table)}</span>
        <Link to={{ form: null }}>Back to the records</Link>
        {planTables.some((name) => name === table) ? <Link to={{ form: `new ${table}` }}>Write one down</Link> : null}
      </p>
      <Answered loaded={loaded} waitingWords="Looking the table up…" failureTitle="The table cannot be shown">
        {(rows) => <Grid key={`${table} ${dataHash}`} table={table} stored={rows} />}
      </Answered>
    </>
  );
}

const atOnce = 60;

function Grid({ table, stored }: { readonly table: FormTable; readonly stored: readonly Values[] }) {
  const fields = fieldsOf(table);
  const keys = keyFieldsOf(table);
  const [rows, setRows] = useState<readonly EditedRow[]>(() =>
    stored.map((values) => ({ stored: values, typed: values })),
  );
  const [shown, setShown] = useState(atOnce);
  const changed = rows.filter(({ stored: before, typed }) => before === null || !sameCell(before, typed));
  const read = changed.map(({ stored: before, typed }) => ({ before, ...typedRow(fields, typed) }));
  const entries = read.map(
    ({ before, values }): FormEntry => (before === null ? { table, values } : changedRow(table, before, values)),
  );
  const wrong = read.map((row) => sayWrong(table, row.wrong)).find((each) => each !== null) ?? null;
  const change = (row: EditedRow, field: string, value: unknown) =>
    setRows(rows.map((each) => (each === row ? { ...row, typed: { ...row.typed, [field]: value } } : each)));
  const offers = offersOf(
    table,
    rows.map(({ typed }) => typed),
  );
  const visible = rows.filter(({ stored: before }, index) => before === null || index < shown);
  return (
    <>
      <div class="card grid-card">
        <div class="table-area">
          <table class="grid">
            <caption class="unseen">{titleOf(table)}</caption>
            <thead>
              <tr>
                {fields.map((field) => (
                  <th key={field.name} scope="col" title={field.description}>
                    {field.title}
                    {field.unit === undefined ? null : <span class="unit"> {field.unit}</span>}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {visible.map((row, index) => (
                <tr key={String(index)}>
                  {fields.map((field) => (
                    <Cell
                      key={field.name}
                      field={field}
                      row={row}
                      isKey={keys.includes(field.name)}
                      name={
                        keys
                          .map((key) => String(row.typed[key] ?? ""))
                          .join(" ")
                          .trim() || `new row ${index + 1}`
                      }
                      onValue={(value) => change(row, field.name, value)}
                    />
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <p class="row-of-buttons grid-foot">
          <button type="button" onClick={() => setRows([...rows, { stored: null, typed: {} }])}>
            Add a row
          </button>
          {offers.length === 0 ? null : (
            <select
              class="offers"
              aria-label="Add a row from the trade list"
              value=""
              onChange={(event) => {
                const offer = offers[Number(event.currentTarget.value)];
                if (event.currentTarget.value !== "" && offer !== undefined)
                  setRows([...rows, { stored: null, typed: offer.values }]);
              }}
            >
              <option value="">Add from the trade list…</option>
              {offers.map(({ name }, index) => (
                <option key={name} value={index}>
                  {name}
                </option>
              ))}
            </select>
          )}
          {shown < stored.length ? (
            <button type="button" class="plain" onClick={() => setShown(shown + atOnce)}>
              {countOf(stored.length - shown, "more row")}
            </button>
          ) : null}
        </p>
        {sourceOf[table] === undefined ? null : <p class="small muted table-source">{sourceOf[table]}</p>}
      </div>
      <StoreBar
        entries={entries}
        missing={changed.length === 0 ? "Change a cell, or add a row." : wrong}
        says={changed.length === 0 ? "" : countOf(changed.length, "row")}
      />
    </>
  );
}

interface CellProps {
  readonly field: FieldDescriptor;
  readonly row: EditedRow;
  readonly isKey: boolean;
  readonly name: string;
  readonly onValue: (value: unknown) => void;
}

/** One cell: text where it names a stored row, else the control of its type. */
function Cell({ field, row: { stored, typed }, isKey, name, onValue }: CellProps) {
  const value = typed[field.name];
  if (isKey && stored !== null) return <th scope="row">{String(value ?? "")}</th>;
  const read = typedValue(field, value);
  const empty = value === null || value === undefined || value === "";
  const differs = stored !== null && !sameCell(stored[field.name], value);
  return (
    <td data-changed={differs}>
      <FieldInput
        field={field}
        value={value}
        label={`${field.title} of ${name}`}
        invalid={"wrong" in read && (!empty || stored !== null)}
        onValue={onValue}
      />
    </td>
  );
}
