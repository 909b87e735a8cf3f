import { type DropPreview, type FieldDescriptor, tableDescriptors } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { sayValue } from "../parts/StoredRecord.tsx";

type SetupRow = DropPreview["setup"][number];

/** Tools, items and modes that no sheet lists but that follow from the sheets. */
export const SetupTable = ({ setup }: { readonly setup: DropPreview["setup"] }) => (
  <DataTable
    caption={`Follows from the sheets (${setup.length})`}
    fill
    rows={setup.map((row, index) => ({ row, index }))}
    keyOf={({ index }) => String(index)}
    columns={[
      { title: "Table", show: ({ row }) => tableDescriptors[row.table].title },
      { title: "Row", show: ({ row }) => sayRow(row) },
      { title: "Why", show: ({ row }) => row.why },
    ]}
  />
);

function sayRow({ table, values }: SetupRow): string {
  return (tableDescriptors[table].fields as readonly FieldDescriptor[])
    .filter(({ name }) => values[name] !== null && values[name] !== undefined)
    .map((field) => `${field.title.toLowerCase()} ${sayValue(field, values[field.name])}`)
    .join(", ");
}
