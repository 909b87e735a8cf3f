import { type FieldDescriptor, type FilePreview, tableDescriptors } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { sayValue } from "../parts/StoredRecord.tsx";

type Change = FilePreview["changes"][number];

const fieldOf = ({ row, field }: Change): FieldDescriptor | undefined =>
  (tableDescriptors[row.table].fields as readonly FieldDescriptor[]).find((known) => known.name === field);
const say = (change: Change, value: unknown): string => {
  const field = fieldOf(change);
  return field === undefined ? String(value) : sayValue(field, value);
};

/** Cells that differ from what is stored: old beside new. */
export function ChangesTable({ changes }: { readonly changes: FilePreview["changes"] }) {
  if (changes.length === 0) return null;
  return (
    <DataTable
      caption={`Changed since it was stored (${changes.length})`}
      fill
      rows={changes}
      keyOf={({ row, field }) => `${row.table} ${row.key} ${field}`}
      columns={[
        { title: "Line", numeric: true, show: ({ origin }) => origin.line },
        { title: "Row", show: ({ row }) => `${tableDescriptors[row.table].title}: ${keyWords(row.key)}` },
        { title: "What", show: (change) => fieldOf(change)?.title ?? change.field },
        { title: "Was", show: (change) => say(change, change.was) },
        { title: "Becomes", show: (change) => <strong>{say(change, change.becomes)}</strong> },
      ]}
    />
  );
}
