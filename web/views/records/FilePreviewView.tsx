import {
  countOf,
  type FilePreview,
  type Mapping,
  sayLineCounts,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { ChangesTable } from "./ChangesTable.tsx";
import { MappingAsData } from "./MappingAsData.tsx";
import { ProblemsTable } from "./ProblemsTable.tsx";

interface FilePreviewViewProps {
  readonly file: FilePreview;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

const mappingWords: Readonly<Record<FilePreview["mappingIs"], string>> = {
  remembered: "Read as confirmed before.",
  proposed: "Read as proposed from its headers.",
  edited: "Read as edited by hand.",
  "not understood": "No table was recognised in its headers; say below what its columns are.",
};

/** One sheet: what it becomes, column by column, with what is wrong and what changes. */
export function FilePreviewView({ file, disabled, onMapping }: FilePreviewViewProps) {
  const { counts } = file;
  const rows = Object.entries(file.rowsByTable) as [TableName, number][];
  return (
    <>
      <div>
        <h3>
          {file.file}
          {file.sheet === null ? "" : `, sheet ${file.sheet}`}
        </h3>
        <p class="small">
          {mappingWords[file.mappingIs]} {countOf(counts.lines, "line")}: {sayLineCounts(counts)}.{" "}
          {rows.length === 0
            ? ""
            : `Becomes ${rows.map(([table, count]) => `${countOf(count, "row")} of ${tableDescriptors[table].title.toLowerCase()}`).join(", ")}.`}
        </p>
      </div>
      <DataTable
        caption={`How the columns of ${file.file} are read`}
        hideCaption
        fill
        rows={file.columns}
        keyOf={(column) => column.header}
        columns={[
          { title: "Column", show: (column) => <strong>{column.header}</strong> },
          { title: "As written", show: (column) => column.samples.slice(0, 3).join(" · ") },
          {
            title: "Becomes",
            show: ({ becomes }) =>
              becomes.length === 0 ? (
                <span class="muted">kept as written, not read</span>
              ) : (
                <ul>
                  {becomes.map(({ table, field }) => (
                    <li key={`${table} ${field}`}>{sayField(table, field)}</li>
                  ))}
                </ul>
              ),
          },
          {
            title: "Unit",
            show: ({ becomes }) => [...new Set(becomes.map(({ unit }) => unit).filter(Boolean))].join(", "),
          },
          { title: "Why", show: (column) => column.why },
        ]}
      />
      <ProblemsTable caption="What could not be read" problems={file.problems} />
      <ChangesTable changes={file.changes} />
      <MappingAsData file={file} disabled={disabled} onMapping={onMapping} />
    </>
  );
}

function sayField(table: TableName, name: string): string {
  const field = tableDescriptors[table].fields.find((known) => known.name === name);
  return `${tableDescriptors[table].title}: ${field?.title ?? name}`;
}
