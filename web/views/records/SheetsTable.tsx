import {
  type FilePreview,
  formatExact,
  nameOfSheet,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

const readAs: Readonly<Record<FilePreview["mappingIs"], string>> = {
  remembered: "as confirmed before",
  proposed: "as proposed, to confirm",
  edited: "as changed by hand",
  "not understood": "not understood",
};

/** All sheets of a drop at a glance. */
export const SheetsTable = ({ files }: { readonly files: readonly FilePreview[] }) => (
  <DataTable
    caption="Sheets of this drop"
    hideCaption
    fill
    rows={files}
    keyOf={nameOfSheet}
    columns={[
      { title: "Sheet", show: (file) => <strong>{nameOfSheet(file)}</strong> },
      { title: "Becomes", show: sayTables },
      { title: "Read", show: ({ mappingIs }) => readAs[mappingIs] },
      { title: "Lines", numeric: true, show: ({ counts }) => formatExact(counts.lines) },
      { title: "New", numeric: true, show: ({ counts }) => formatExact(counts.new) },
      { title: "Changed", numeric: true, show: ({ counts }) => formatExact(counts.changed) },
      { title: "Unchanged", numeric: true, show: ({ counts }) => formatExact(counts.unchanged) },
      { title: "Set aside", numeric: true, show: ({ counts }) => formatExact(counts.setAside) },
    ]}
  />
);

function sayTables({ rowsByTable }: FilePreview): string {
  const tables = Object.keys(rowsByTable) as TableName[];
  return tables.length === 0
    ? "nothing yet"
    : tables.map((table) => tableDescriptors[table].title.toLowerCase()).join(", ");
}
