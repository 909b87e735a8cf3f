import {
  countOf,
  type FilePreview,
  type Mapping,
  nameOfSheet,
  sayLineCounts,
  type TableName,
  tableDescriptors,
} from "../../../analysis/index.ts";
import { sheetsLike } from "../../state/dropEdits.ts";
import { ColumnsTable } from "./ColumnsTable.tsx";
import { MappingAsData } from "./MappingAsData.tsx";
import { ProblemsTable } from "./ProblemsTable.tsx";
import { sheetAnchor } from "./sheetAnchor.ts";
import { isAboutTab } from "./TabNotices.tsx";

interface FilePreviewViewProps {
  readonly file: FilePreview;
  /** All sheets of the drop: a change of this one is a change of those with the same headers. */
  readonly files: readonly FilePreview[];
  /** Whether the columns are shown at once: where the sheet needs a look. */
  readonly open: boolean;
  readonly disabled: boolean;
  readonly onMapping: (mapping: Mapping) => void;
}

const mappingWords: Readonly<Record<FilePreview["mappingIs"], string>> = {
  remembered: "Read as confirmed before",
  proposed: "Read as proposed from its headers",
  edited: "Read as changed here by hand",
  "not understood": "No table was recognised in its headers; say below what its columns are",
};

/** One sheet: what it becomes, column by column, and what is wrong in it. */
export function FilePreviewView({ file, files, open, disabled, onMapping }: FilePreviewViewProps) {
  const { counts, mapping, mappingIs } = file;
  const name = nameOfSheet(file);
  const rows = Object.entries(file.rowsByTable) as [TableName, number][];
  const alike = sheetsLike(files, file).length - 1;
  const version = mappingIs === "remembered" ? `, version ${mapping.version}` : "";
  return (
    <article class="sheet-of-drop" id={sheetAnchor(file)} aria-label={name}>
      <div>
        <h3>{name}</h3>
        <p class="small">
          {mappingWords[mappingIs]}
          {version}. {countOf(counts.lines, "line")}: {sayLineCounts(counts)}.{" "}
          {rows.length === 0
            ? ""
            : `Becomes ${rows.map(([table, count]) => `${countOf(count, "row")} of ${tableDescriptors[table].title.toLowerCase()}`).join(", ")}.`}
        </p>
      </div>
      <ProblemsTable
        caption="What could not be read"
        problems={file.problems.filter((problem) => !isAboutTab(problem))}
        {...(file.inAll === undefined ? {} : { inAll: file.inAll.problems })}
      />
      {file.columns.length === 0 ? null : (
        <details class="how" open={open}>
          <summary>How its {countOf(file.columns.length, "column is", "columns are")} read</summary>
          {alike === 0 ? null : (
            <p class="small muted">
              A change here counts for the {countOf(alike, "other sheet")} of this drop with the same headers too.
            </p>
          )}
          <ColumnsTable file={file} name={name} disabled={disabled} onMapping={onMapping} />
        </details>
      )}
      {file.columns.length === 0 ? null : <MappingAsData file={file} disabled={disabled} onMapping={onMapping} />}
    </article>
  );
}
