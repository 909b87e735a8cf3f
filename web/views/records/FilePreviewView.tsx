import {
  countOf,
  type FilePreview,
  type Mapping,
  nameOfSheet,
  sayLineCounts,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { ChangesTable } from "./ChangesTable.tsx";
import { ColumnsTable } from "./ColumnsTable.tsx";
import { GoneRows } from "./GoneRows.tsx";
import { MappingAsData } from "./MappingAsData.tsx";
import { ProblemsTable } from "./ProblemsTable.tsx";

interface FilePreviewViewProps {
  readonly file: FilePreview;
  /** Whether the columns are shown at once: where there is one sheet, or it needs a look. */
  readonly open: boolean;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

const mappingWords: Readonly<Record<FilePreview["mappingIs"], string>> = {
  remembered: "Read as confirmed before.",
  proposed: "Read as proposed from its headers.",
  edited: "Read as changed here by hand.",
  "not understood": "No table was recognised in its headers; say below what its columns are.",
};

/** One sheet: what it becomes, column by column, with what is wrong and what changes. */
export function FilePreviewView({ file, open, disabled, onMapping }: FilePreviewViewProps) {
  const { counts } = file;
  const name = nameOfSheet(file);
  const rows = Object.entries(file.rowsByTable) as [TableName, number][];
  return (
    <>
      <div>
        <h3>{name}</h3>
        <p class="small">
          {mappingWords[file.mappingIs]} {countOf(counts.lines, "line")}: {sayLineCounts(counts)}.{" "}
          {rows.length === 0
            ? ""
            : `Becomes ${rows.map(([table, count]) => `${countOf(count, "row")} of ${tableDescriptors[table].title.toLowerCase()}`).join(", ")}.`}
        </p>
      </div>
      <ProblemsTable caption="What could not be read" problems={file.problems} />
      <ChangesTable changes={file.changes} />
      <GoneRows gone={file.gone} />
      <details class="how" open={open}>
        <summary>How its {countOf(file.columns.length, "column is", "columns are")} read</summary>
        <ColumnsTable file={file} name={name} disabled={disabled} onMapping={onMapping} />
      </details>
      <MappingAsData file={file} disabled={disabled} onMapping={onMapping} />
    </>
  );
}
