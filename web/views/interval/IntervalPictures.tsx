import { useEffect, useId, useState } from "preact/hooks";
import { formatHours, type RedressIntervalResult, sayIntervalFinding } from "../../../analysis/index.ts";
import { IntervalChart } from "../../charts/IntervalChart.tsx";
import type { IntervalPicture } from "../../charts/intervalLayout.ts";
import { sayAt } from "../../charts/intervalMarks.ts";
import { intervalRows } from "../../charts/intervalRows.ts";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";

/** Cost, chance before the redress and chance in the next run, one handle through all three. */
export function IntervalPictures({ result }: { readonly result: RedressIntervalResult }) {
  const { curves, provenance } = result;
  const [first, last] = [curves.age[0] ?? 0, curves.age.at(-1) ?? 0];
  const [tried, setTried] = useState(startAt(result));
  const handle = useId();
  useEffect(() => setTried(startAt(result)), [provenance.studyHash, provenance.dataHash]);
  const picture = (which: IntervalPicture, name: string) => (
    <ChartPanel
      name={name}
      file={fileName([result.item ?? result.toolType, "interval", which], "").slice(0, -1)}
      table={() => intervalRows(result)}
      draw={(size) => (
        <IntervalChart
          result={result}
          picture={which}
          tried={tried}
          finding={sayIntervalFinding(result, which)}
          {...size}
        />
      )}
    />
  );
  return (
    <>
      {picture("cost", "the cost against the interval")}
      <div class="handle">
        <label for={handle}>
          Try an interval <strong>{formatHours(Math.round(tried))}</strong>
        </label>
        <input
          id={handle}
          type="range"
          min={Math.ceil(first)}
          max={Math.floor(last)}
          step={1}
          value={Math.round(tried)}
          aria-valuetext={sayAt(result, "cost", tried)}
          onInput={(event) => setTried(Number(event.currentTarget.value))}
        />
        <dl class="tried">
          <div>
            <dt>Cost</dt>
            <dd>{after(sayAt(result, "cost", tried))}</dd>
          </div>
          <div>
            <dt>A job stopped before the redress</dt>
            <dd>{after(sayAt(result, "before", tried))}</dd>
          </div>
          <div>
            <dt>In a {formatHours(result.risk.runHours)} run begun at that age</dt>
            <dd>{after(sayAt(result, "run", tried))}</dd>
          </div>
        </dl>
      </div>
      <div class="side-by-side">
        {picture("before", "the chance before the redress")}
        {picture("run", "the chance in the next run")}
      </div>
    </>
  );
}

/** The interval first tried: the recommended one, else what the shop does today, else the middle. */
const startAt = ({ recommended, today, curves }: RedressIntervalResult): number =>
  Math.min(recommended?.age ?? today?.middle ?? (curves.age.at(-1) ?? 0) / 2, curves.age.at(-1) ?? 0);

const after = (words: string): string => words.slice(words.indexOf(": ") + 2);
