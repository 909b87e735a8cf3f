import {
  formatConfidence,
  formatExact,
  formatHours,
  formatNumber,
  type RedressIntervalResult,
  type SinceComparison,
  type SinceDecided,
  saySince,
  saySinceAge,
  saySinceCounts,
  saySinceFinding,
  saySinceKept,
  saySinceName,
  saySinceSpread,
  saySinceTitle,
  saySinceVerdict,
  saySinceVerdicts,
  sinceColumns,
  sinceRows,
} from "../../../analysis/index.ts";
import { ComparisonsChart } from "../../charts/ComparisonsChart.tsx";
import { sinceChartRows } from "../../charts/sinceChartRows.ts";
import { boundsText } from "../../charts/text/numbers.ts";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";

/** Failures before the decision in force and since; without a decision, how to keep one. */
export function SinceDecision({ result }: { readonly result: RedressIntervalResult }) {
  const since = result.sinceDecided;
  if (since === null)
    return (
      <p class="muted small">
        No decision about {result.item ?? `the ${result.toolType}`} is on record.{" "}
        <Link to={{ view: "records", form: "decisions" }}>Write one down among the records</Link>, and what came of it
        stands here.
      </p>
    );
  const kept = saySinceKept(since);
  return (
    <div class="since-decision">
      <h3>{saySinceTitle(since)}</h3>
      <p>
        <q>{since.decision.statement}</q>
      </p>
      <p>
        <strong>{saySinceVerdicts(since)}</strong> {saySinceCounts(since)}
        {kept === null ? null : ` ${kept}`}
      </p>
      {since.state === "compared" ? <Compared result={result} since={since} /> : null}
    </div>
  );
}

function Compared({ result, since }: { readonly result: RedressIntervalResult; readonly since: SinceDecided }) {
  const name = result.item ?? result.toolType;
  const { confidence } = result.definition;
  return (
    <>
      <ChartPanel
        name="failure rates since the decision over those before"
        file={fileName([name, "since decision"], "").slice(0, -1)}
        draw={(size) => (
          <ComparisonsChart id="since" result={sinceChartRows(since)} finding={saySinceFinding(since)} {...size} />
        )}
        table={() => ({
          columns: sinceColumns.map(({ title }) => title),
          rows: sinceRows(since).map((row) => sinceColumns.map(({ value }) => value(row))),
        })}
        sentence={saySince(since)}
      />
      <DataTable
        caption={`Failures before and since, and the ratio of the rates (${formatConfidence(confidence)})`}
        fill
        file={fileName(["since decision", name], "csv")}
        fileColumns={sinceColumns}
        rows={sinceRows(since)}
        keyOf={saySinceName}
        columns={[
          { title: "What", show: saySinceName },
          { title: "As they came", show: (row) => <Ratio {...row.asTheyCame} /> },
          { title: "At the same ages", show: (row) => <Ratio {...row.sameAge} /> },
          { title: "Before", numeric: true, show: ({ asTheyCame }) => said(asTheyCame.before) },
          { title: "Since", numeric: true, show: ({ asTheyCame }) => said(asTheyCame.after) },
        ]}
      />
      <AgesTable since={since} file={fileName(["since decision ages", name], "csv")} />
      <p class="muted small">
        {saySinceSpread(since)} A shorter interval works by leaving fewer old hours: that shows as they came. At the
        same ages shows what else changed. Other things changed in the same time; this shows a difference, not its
        cause. A difference is shown where the bounds exclude 1 and p, allowing for the number of rows (Holm), does too.
      </p>
    </>
  );
}

const said = ({ failures, hours }: SinceComparison["before"]): string =>
  `${formatExact(failures)} in ${formatHours(hours)}`;

function Ratio(one: SinceComparison) {
  const { ratio, verdict } = one;
  const shown = verdict === "fewer" || verdict === "more";
  const value = ratio.method === "none" ? "not known" : ratio.value === null ? "" : `${formatNumber(ratio.value)} `;
  return (
    <>
      <span class="whole">
        {value}
        {ratio.method === "none" ? null : `(${boundsText(ratio)})`}
      </span>
      <br />
      {shown ? <strong>{saySinceVerdict(one)}</strong> : saySinceVerdict(one)}
    </>
  );
}

/** How old the items were when they ran: shares of the hours, and failures, by age. */
function AgesTable({ since, file }: { readonly since: SinceDecided; readonly file: string }) {
  type Age = SinceDecided["ages"][number];
  const all = (side: "before" | "after") => since.ages.reduce((sum, band) => sum + band[side].hours, 0);
  const [before, after] = [all("before"), all("after")];
  const share = (hours: number, of: number) => (of === 0 ? "no hours" : `${formatNumber((100 * hours) / of)} %`);
  return (
    <DataTable
      caption="How old they were when they ran"
      fill
      file={file}
      rows={since.ages.filter((band) => band.before.hours + band.after.hours > 0)}
      keyOf={saySinceAge}
      columns={[
        { title: "Age", show: saySinceAge, value: saySinceAge },
        {
          title: "Hours before",
          numeric: true,
          show: (band: Age) => share(band.before.hours, before),
          value: (band: Age) => band.before.hours,
        },
        {
          title: "Hours since",
          numeric: true,
          show: (band: Age) => share(band.after.hours, after),
          value: (band: Age) => band.after.hours,
        },
        {
          title: "Failed before",
          numeric: true,
          show: (band: Age) => formatExact(band.before.failures),
          value: (band: Age) => band.before.failures,
        },
        {
          title: "Failed since",
          numeric: true,
          show: (band: Age) => formatExact(band.after.failures),
          value: (band: Age) => band.after.failures,
        },
      ]}
    />
  );
}
