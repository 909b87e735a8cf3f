import {
  type ColumnTarget,
  type FilePreview,
  hasOtherUses,
  type Mapping,
  type TableName,
  tableDescriptors,
  targetsOf,
  withTarget,
} from "../../../analysis/index.ts";
import { withDateOrder } from "../../state/dropEdits.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { DateOrderSelect } from "./DateOrderSelect.tsx";
import { FieldSelect } from "./FieldSelect.tsx";
import { UnitSelect } from "./UnitSelect.tsx";

type Column = FilePreview["columns"][number];

interface ColumnsTableProps {
  readonly file: FilePreview;
  readonly name: string;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

/** Each column of a sheet, what it becomes and in which unit; both can be changed, and the sheet is read again at once. */
export function ColumnsTable({ file, name, disabled, onMapping }: ColumnsTableProps) {
  const { mapping } = file;
  const tables = [...new Set(mapping.tables.map(({ table }) => table))];
  const change = (header: string, from: ColumnTarget | null, to: ColumnTarget | null) =>
    onMapping(withTarget(mapping, header, from, to));
  const targets = ({ header }: Column): readonly (ColumnTarget | null)[] => {
    const known = targetsOf(mapping, header);
    return known.length === 0 ? [null] : known;
  };
  return (
    <DataTable
      caption={`How the columns of ${name} are read`}
      hideCaption
      fill
      rows={file.columns}
      keyOf={(column) => column.header}
      columns={[
        { title: "Column", show: (column) => <strong>{column.header}</strong> },
        {
          title: "As written",
          show: (column) => <span class="samples">{column.samples.slice(0, 4).join(" · ")}</span>,
        },
        {
          title: "Becomes",
          show: (column) => (
            <>
              {targets(column).map((target) => (
                <FieldSelect
                  key={target === null ? "none" : `${target.table} ${target.field}`}
                  label={`What the column ${column.header} becomes`}
                  value={target}
                  tables={tables}
                  disabled={disabled}
                  onPick={(to) => change(column.header, target, to)}
                />
              ))}
              {hasOtherUses(mapping, column.header) ? <OtherUses column={column} mapping={mapping} /> : null}
            </>
          ),
        },
        {
          title: "Unit, date order",
          show: (column) => (
            <>
              {targetsOf(mapping, column.header)
                .filter(({ unit }) => unit !== null)
                .map((target) => (
                  <UnitSelect
                    key={`${target.table} ${target.field}`}
                    label={`Unit of the column ${column.header}`}
                    unit={target.unit ?? ""}
                    disabled={disabled}
                    onPick={(unit) => change(column.header, target, { ...target, unit })}
                  />
                ))}
              {column.becomes.length > 0 && Object.hasOwn(mapping.format.dateOrder, column.header) ? (
                <DateOrderSelect
                  label={`Order of the dates in ${column.header}`}
                  order={mapping.format.dateOrder[column.header] ?? "dmy"}
                  disabled={disabled}
                  onPick={(order) => onMapping(withDateOrder(mapping, column.header, order))}
                />
              ) : null}
            </>
          ),
        },
        { title: "Why", show: (column) => <span class="small">{column.why}</span> },
      ]}
    />
  );
}

/** Uses that a list cannot change: a part of a key, one joint of several. They are edited as data. */
function OtherUses({ column: { header, becomes }, mapping }: { readonly column: Column; readonly mapping: Mapping }) {
  const simple = targetsOf(mapping, header);
  const others = becomes.filter(
    ({ table, field }) => !simple.some((target) => target.table === table && target.field === field),
  );
  if (others.length === 0) return null;
  return (
    <p class="muted small">
      also{" "}
      {others
        .map(({ table, field, unit }) => `${sayField(table, field)}${unit === null ? "" : `, ${unit}`}`)
        .join("; ")}
    </p>
  );
}

function sayField(table: TableName, name: string): string {
  const field = tableDescriptors[table].fields.find((known) => known.name === name);
  return `${tableDescriptors[table].title}: ${field?.title ?? name}`;
}
