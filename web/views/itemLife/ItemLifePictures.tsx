import { useEffect, useState } from "preact/hooks";
import { formatHours, type ItemLifeResult, sayLifeFinding } from "../../../analysis/index.ts";
import { historiesRows, probabilityRows, survivalRows } from "../../charts/chartRows.ts";
import { HistoriesChart } from "../../charts/HistoriesChart.tsx";
import { ProbabilityPlot } from "../../charts/ProbabilityPlot.tsx";
import { SurvivalChart } from "../../charts/SurvivalChart.tsx";
import { fileName } from "../../state/saveFile.ts";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import type { Mark } from "../parts/marks.ts";
import { Pager } from "../parts/Pager.tsx";

interface ItemLifePicturesProps {
  readonly result: ItemLifeResult;
  readonly onPick: (title: string, lifeIds: readonly string[]) => void;
}

const livesAtOnce = 20;

/** The survival curve large; under it the probability plot and the lives themselves, side by side where there is room. */
export function ItemLifePictures({ result, onPick }: ItemLifePicturesProps) {
  const [from, setFrom] = useState(0);
  const [together, setTogether] = useState(false);
  const drawn = together ? withBand(result) : result;
  const { studyHash } = result.provenance;
  useEffect(() => setFrom(0), [studyHash]);
  const pick = (mark: Mark) => {
    if (mark.lifeIds.length > 0) onPick(mark.says, mark.lifeIds);
  };
  const file = (what: string) => fileName([result.item, result.mode, what], "").slice(0, -1);
  const page = { from, to: Math.min(from + livesAtOnce, result.histories.length) };
  return (
    <>
      <ChartPanel
        name="the survival curve"
        file={file("survival")}
        table={() => survivalRows(drawn)}
        draw={(size) => <SurvivalChart result={drawn} finding={sayLifeFinding(result, "survival")} {...size} />}
        onPick={pick}
      />
      {result.nonparametric.band === null ? null : (
        <label class="check small">
          <input type="checkbox" checked={together} onChange={(event) => setTogether(event.currentTarget.checked)} />
          Bounds of the steps hold the whole curve at once, from {formatHours(result.nonparametric.band.fromAge)} to{" "}
          {formatHours(result.nonparametric.band.toAge)}
        </label>
      )}
      <div class="side-by-side">
        <ChartPanel
          name="the probability plot"
          file={file("probability plot")}
          table={() => probabilityRows(result)}
          draw={(size) => <ProbabilityPlot result={result} finding={sayLifeFinding(result, "probability")} {...size} />}
          onPick={pick}
        />
        <div>
          <ChartPanel
            name="the lives one by one"
            file={file("lives")}
            table={() => historiesRows(result)}
            draw={(size) => (
              <HistoriesChart result={result} finding={sayLifeFinding(result, "histories")} {...page} {...size} />
            )}
            onPick={pick}
          />
          <Pager {...page} total={result.histories.length} step={livesAtOnce} what="lives" onFrom={setFrom} />
        </div>
      </div>
    </>
  );
}

/** The steps with the band that holds the whole curve, in place of the bounds at each age. */
function withBand(result: ItemLifeResult): ItemLifeResult {
  const { nonparametric } = result;
  const { band } = nonparametric;
  if (band === null) return result;
  const steps = nonparametric.steps.map((step, index) => ({
    ...step,
    lower: band.lower[index] ?? null,
    upper: band.upper[index] ?? null,
  }));
  return { ...result, nonparametric: { ...nonparametric, boundsMethod: band.method, steps } };
}
