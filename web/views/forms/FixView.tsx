import { useState } from "preact/hooks";
import { countOf, type HistoryEvent, type Row, sayEventName, type ToolHistoryResult } from "../../../analysis/index.ts";
import { changedRow, sameCell } from "../../state/changedRow.ts";
import { type FormTable, fieldsOf, keyFieldsOf, titleOf } from "../../state/formTables.ts";
import { sayWrong } from "../../state/sayWrong.ts";
import { typedRow } from "../../state/typedValue.ts";
import { RowHistory } from "../parts/RowHistory.tsx";
import { FormFrame } from "./FormFrame.tsx";
import { RowFields } from "./RowFields.tsx";
import { StoreBar } from "./StoreBar.tsx";

interface FixViewProps {
  readonly event: HistoryEvent;
  readonly result: ToolHistoryResult;
}

interface FixedRow {
  readonly table: FormTable;
  readonly name: string;
  readonly stored: Readonly<Record<string, unknown>>;
  readonly typed: Readonly<Record<string, unknown>>;
}

/** An event of a tool with every row that belongs to it, to be put right; what differs is marked before it is stored. */
export function FixView({ event, result }: FixViewProps) {
  const { serial } = result.tool;
  const [rows, setRows] = useState(() => rowsOf(event));
  const changed = rows.filter(({ stored, typed }) => !sameCell(stored, typed));
  const read = changed.map((row) => ({ row, ...typedRow(fieldsOf(row.table), row.typed) }));
  const entries = read.map(({ row, values }) => changedRow(row.table, row.stored, values));
  const wrong = read.map(({ row, wrong: each }) => sayWrong(row.table, each)).find((each) => each !== null) ?? null;
  const change = (row: FixedRow, field: string, value: unknown) =>
    setRows(rows.map((each) => (each === row ? { ...row, typed: { ...row.typed, [field]: value } } : each)));
  return (
    <FormFrame asks={`Put right: ${sayEventName(event)} of ${serial}`} back={`Back to the story of ${serial}`}>
      <div class="card">
        {rows.map((row, index) => (
          <div class="tap-band" key={`${row.table} ${row.name}`}>
            <details class="how" open={index === 0 || rows.length <= 3}>
              <summary>
                {titleOf(row.table)}: {row.name}
                {changed.includes(row) ? <span class="choice-mark"> changed</span> : null}
              </summary>
              <RowFields
                table={row.table}
                values={row.typed}
                stored={row.stored}
                fixed={keyFieldsOf(row.table)}
                onValue={(field, value) => change(row, field, value)}
              />
              <RowHistory
                row={{
                  table: row.table,
                  key: JSON.stringify(keyFieldsOf(row.table).map((field) => row.stored[field])),
                }}
                version={result.provenance.dataHash}
              />
            </details>
          </div>
        ))}
      </div>
      <StoreBar
        entries={entries}
        missing={changed.length === 0 ? "Change what is not right." : wrong}
        says={changed.length === 0 ? "" : `${countOf(changed.length, "row")} put right`}
      />
    </FormFrame>
  );
}

function rowsOf({ event }: HistoryEvent): readonly FixedRow[] {
  const row = <T extends FormTable>(table: T, values: Row<T>): FixedRow => {
    const stored = values as Readonly<Record<string, unknown>>;
    const name = keyFieldsOf(table)
      .map((field) => String(stored[field] ?? ""))
      .join(", ");
    return { table, name, stored, typed: stored };
  };
  if (event.kind === "run") return [row("runs", event.run)];
  if (event.kind === "teardown")
    return [row("teardowns", event.teardown), ...event.findings.map((finding) => row("findings", finding))];
  return [
    row("redresses", event.redress),
    ...event.joints.map((joint) => row("joints", joint)),
    ...event.fitted.map((fitted) => row("fitted_items", fitted)),
  ];
}
