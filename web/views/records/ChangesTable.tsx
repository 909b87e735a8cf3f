import { useState } from "preact/hooks";
import {
  type FieldDescriptor,
  type FilePreview,
  formatExact,
  nameOfSheet,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";
import { sayValue } from "../parts/StoredRecord.tsx";

type Change = FilePreview["changes"][number];

const atFirst = 20;
const fieldOf = ({ row, field }: Change): FieldDescriptor | undefined =>
  (tableDescriptors[row.table].fields as readonly FieldDescriptor[]).find((known) => known.name === field);
const say = (change: Change, value: unknown): string => {
  const field = fieldOf(change);
  return field === undefined ? String(value) : sayValue(field, value);
};

/** Cells of all sheets that differ from what is stored: old beside new. */
export function ChangesTable({ files }: { readonly files: readonly FilePreview[] }) {
  const [all, setAll] = useState(false);
  const changes = files.flatMap((file) => file.changes);
  if (changes.length === 0) return null;
  const inAll = files.reduce((sum, file) => sum + (file.inAll?.changes ?? file.changes.length), 0);
  return (
    <div>
      <DataTable
        caption={`${formatExact(inAll)} ${inAll === 1 ? "cell differs" : "cells differ"} from what is stored`}
        fill
        rows={all ? changes : changes.slice(0, atFirst)}
        keyOf={({ row, field, origin }) => `${row.table} ${row.key} ${field} ${nameOfSheet(origin)}`}
        group={{
          title: "Row",
          keyOf: ({ row }) => `${row.table} ${row.key}`,
          show: ({ row, origin }) => (
            <>
              {tableDescriptors[row.table].title}: <strong>{keyWords(row.key)}</strong>
              <br />
              <span class="muted small">
                {files.length > 1 ? `${nameOfSheet(origin)}, ` : ""}line {formatExact(origin.line)}
              </span>
            </>
          ),
        }}
        columns={[
          { title: "Cell", show: (change) => fieldOf(change)?.title ?? change.field },
          { title: "Stored", show: (change) => <span class="was">{say(change, change.was)}</span> },
          { title: "Becomes", show: (change) => <strong>{say(change, change.becomes)}</strong> },
        ]}
      />
      {changes.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `Show ${formatExact(changes.length)}`}
        </button>
      ) : null}
      {inAll > changes.length ? (
        <p class="small muted">
          The first {formatExact(changes.length)} are listed here; all {formatExact(inAll)} are stored.
        </p>
      ) : null}
    </div>
  );
}
