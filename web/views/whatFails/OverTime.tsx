import { useState } from "preact/hooks";
import { sayFleetFinding, type WhatFailsResult } from "../../../analysis/index.ts";
import { ratesOverTimeRows } from "../../charts/chartRows.ts";
import { RatesOverTime } from "../../charts/RatesOverTime.tsx";
import { ChartPanel } from "../parts/ChartPanel.tsx";
import type { Mark } from "../parts/marks.ts";

interface OverTimeProps {
  readonly result: WhatFailsResult;
  readonly onPick: (mark: Mark) => void;
}

/** More lines than this cross too often to be read. */
const mostLines = 4;

/** Rates half-year by half-year: all modes together, or the most frequent ones each on its own. */
export function OverTime({ result, onPick }: OverTimeProps) {
  const [apart, setApart] = useState(false);
  const most = [...result.modes]
    .sort((a, b) => b.failures - a.failures)
    .slice(0, mostLines)
    .map(({ item, mode }) => ({ item, mode }));
  const modes = apart ? most : [];
  return (
    <div>
      {most.length < 2 ? null : (
        <div class="tabs">
          <button type="button" aria-pressed={!apart} onClick={() => setApart(false)}>
            All modes together
          </button>
          <button type="button" aria-pressed={apart} onClick={() => setApart(true)}>
            The {most.length} most frequent apart
          </button>
        </div>
      )}
      <ChartPanel
        name="the rates over time"
        file="what-fails-over-time"
        table={() => ratesOverTimeRows(result, modes)}
        draw={(size) => (
          <RatesOverTime result={result} finding={sayFleetFinding(result, "over time")} modes={modes} {...size} />
        )}
        onPick={onPick}
      />
    </div>
  );
}
