import { useState } from "preact/hooks";
import { type DropPreview, type FieldDescriptor, tableDescriptors } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { sayValue } from "../parts/StoredRecord.tsx";

type SetupRow = DropPreview["setup"][number];

const atFirst = 8;

/** Tools, items and modes that no sheet lists but that follow from the sheets. */
export function SetupTable({ setup }: { readonly setup: DropPreview["setup"] }) {
  const [all, setAll] = useState(false);
  const rows = setup.map((row, index) => ({ row, index }));
  return (
    <div>
      <DataTable
        caption={`Follows from the sheets (${setup.length})`}
        fill
        rows={all ? rows : rows.slice(0, atFirst)}
        keyOf={({ index }) => String(index)}
        group={{ keyOf: ({ row }) => row.table, show: ({ row }) => tableDescriptors[row.table].title }}
        columns={[
          { title: "Row", show: ({ row }) => sayRow(row) },
          { title: "Why", show: ({ row }) => row.why },
        ]}
      />
      {setup.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${setup.length}`}
        </button>
      ) : null}
    </div>
  );
}

function sayRow({ table, values }: SetupRow): string {
  return (tableDescriptors[table].fields as readonly FieldDescriptor[])
    .filter(({ name }) => values[name] !== null && values[name] !== undefined)
    .map((field) => `${field.title.toLowerCase()} ${sayValue(field, values[field.name])}`)
    .join(", ");
}
