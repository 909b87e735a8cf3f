import {
  formatExact,
  formatNumber,
  type PracticeComparison,
  type PracticeDetail,
  sentenceCase,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface WhoDidWhatProps {
  readonly detail: PracticeDetail;
  readonly comparison: PracticeComparison;
}

/** The practice by technician, item, customer, well and season: what it goes along with cannot be told from it. */
export function WhoDidWhatTables({ detail, comparison }: WhoDidWhatProps) {
  const isNumber = comparison.at !== null;
  const rows = detail.whoDidWhat.flatMap(({ what, rows: own }) => own.map((row) => ({ what, ...row })));
  return (
    <details>
      <summary>Who did what, where</summary>
      <DataTable
        caption="Who did what, where"
        hideCaption
        rows={rows}
        keyOf={({ what, name }) => `${what} ${name}`}
        group={{ keyOf: ({ what }) => what, show: ({ what }) => sentenceCase(what) }}
        file={fileName(["who did what", comparison.practice, comparison.item, comparison.mode], "csv")}
        fileColumns={[{ title: "by", value: ({ what }) => what }]}
        columns={[
          { title: "Name", show: ({ name }) => name, value: ({ name }) => name },
          {
            title: isNumber ? `Mean ${comparison.practice}` : `Share with ${comparison.level}`,
            numeric: true,
            show: ({ practice }) =>
              practice === null
                ? "not written"
                : isNumber
                  ? formatNumber(practice)
                  : `${formatNumber(100 * practice, 2)} %`,
            value: ({ practice }) => practice,
          },
          {
            title: "Failures",
            numeric: true,
            show: ({ failures }) => formatExact(failures),
            value: ({ failures }) => failures,
          },
          { title: "Lives", numeric: true, show: ({ lives }) => formatExact(lives), value: ({ lives }) => lives },
        ]}
      />
    </details>
  );
}
