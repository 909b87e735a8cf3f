import { Fragment } from "preact";
import {
  formatHours,
  formatNumber,
  type ItemLifeResult,
  lawChoices,
  sayLaw,
  sayLawFit,
  sayLaws,
  sentenceCase,
} from "../../../analysis/index.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** The same lives under other laws: would one of them say otherwise? */
export function LawsTable({ result }: { readonly result: ItemLifeResult }) {
  const { laws, readings, definition } = result;
  const used = definition.law ?? "weibull";
  if (laws.length < 2) return null;
  const others = lawChoices.filter((law) => laws.every((row) => row.law !== law));
  return (
    <>
      <DataTable
        caption="Would another law say otherwise?"
        file={fileName(["laws", result.item, result.mode], "csv")}
        rows={laws}
        keyOf={(row) => row.law}
        columns={[
          {
            title: "Law",
            show: (row) =>
              row.law === used ? (
                `${sentenceCase(sayLaw[row.law])} (read here)`
              ) : (
                <Link to={{ settings: { law: row.law } }}>
                  {sentenceCase(sayLaw[row.law])}
                  <span class="unseen">: read the life from this law</span>
                </Link>
              ),
            value: (row) => row.law,
          },
          { title: "Fit", show: sayLawFit, value: (row) => row.worseBy },
          {
            title: "One in ten has failed by",
            numeric: true,
            show: (row) => ageOf(row.b10),
            value: (row) => row.b10,
          },
          {
            title: "Half have failed by",
            numeric: true,
            show: (row) => ageOf(row.median),
            value: (row) => row.median,
          },
          {
            title: `Still good at ${formatHours(readings.statedAge)}`,
            numeric: true,
            show: (row) => formatNumber(row.reliability),
            value: (row) => row.reliability,
          },
        ]}
      />
      <p class="muted small">
        {sayLaws(laws)} A law picked here gives the readings, the curve and their bounds above.
        {others.length === 0 ? null : " Also to be had: "}
        {others.map((law, place) => (
          <Fragment key={law}>
            {place === 0 ? "" : ", "}
            <Link to={{ settings: { law } }}>{sayLaw[law]}</Link>
          </Fragment>
        ))}
        {others.length === 0 ? null : "."}
      </p>
    </>
  );
}

/** A law that is not cut at 0 may read an age below. */
const ageOf = (hours: number): string => (hours < 0 ? "before 0 h" : formatHours(hours));
