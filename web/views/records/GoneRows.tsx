import { useState } from "preact/hooks";
import { type FilePreview, sayOrigin, tableDescriptors } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { keyWords } from "../parts/keyWords.ts";

const atFirst = 8;

/** Rows that an earlier sheet of this shape held and this one does not. They stay stored; a person says what they are. */
export function GoneRows({ gone }: { readonly gone: FilePreview["gone"] }) {
  const [all, setAll] = useState(false);
  if (gone.length === 0) return null;
  return (
    <div>
      <DataTable
        caption={`Stored before, not on this sheet any more (${gone.length})`}
        fill
        rows={all ? gone : gone.slice(0, atFirst)}
        keyOf={({ row }) => `${row.table} ${row.key}`}
        columns={[
          { title: "Row", show: ({ row }) => `${tableDescriptors[row.table].title}: ${keyWords(row.key)}` },
          { title: "Where it stood", show: ({ origin }) => sayOrigin(origin) },
        ]}
      />
      {gone.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${gone.length}`}
        </button>
      ) : null}
      <p class="small muted">They stay in the records; nothing is deleted because a sheet left it out.</p>
    </div>
  );
}
