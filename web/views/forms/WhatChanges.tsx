import { type FieldDescriptor, type FormPreview, tableDescriptors } from "../../../analysis/index.ts";
import { keyWords } from "../parts/keyWords.ts";
import { sayValue } from "../parts/StoredRecord.tsx";

/** Stored cells that would change: old beside new. New rows change nothing that is stored. */
export function WhatChanges({ preview }: { readonly preview: FormPreview }) {
  const changed = preview.rows.filter(({ what }) => what === "changed");
  if (changed.length === 0) return null;
  return (
    <ul class="what-changes small">
      {changed.flatMap(({ row, cells }) =>
        cells.map(({ field: name, was, becomes }) => {
          const field = (tableDescriptors[row.table].fields as readonly FieldDescriptor[]).find(
            (known) => known.name === name,
          );
          const say = (value: unknown) => (field === undefined ? String(value) : sayValue(field, value));
          return (
            <li key={`${row.table} ${row.key} ${name}`}>
              {tableDescriptors[row.table].title} {keyWords(row.key)}, {(field?.title ?? name).toLowerCase()}:{" "}
              <span class="was">{say(was)}</span> becomes <strong>{say(becomes)}</strong>
            </li>
          );
        }),
      )}
    </ul>
  );
}
