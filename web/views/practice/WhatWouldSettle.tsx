import {
  formatNumber,
  formatSize,
  type PracticeComparison,
  type PracticeDetail,
  type SettlingGoal,
  saySettling,
  saySides,
} from "../../../analysis/index.ts";
import { move, place } from "../../state/navigation.ts";
import { fileName } from "../../state/saveFile.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { SerialLink } from "../parts/Link.tsx";
import { SelectField } from "../parts/SelectField.tsx";

const multipliers = ["0.5", "0.67", "0.8", "1.25", "1.5", "2"] as const;
const shapes = ["1", "1.3", "1.5", "2", "2.5", "3"] as const;
const chances = ["0.7", "0.8", "0.9"] as const;
/** A life cut to two thirds: a smaller difference rarely pays for a trial. Common practice, no source. */
const usualGoal: SettlingGoal = { multiplier: 0.67, power: 0.8, shape: null };

interface WhatWouldSettleProps {
  readonly detail: PracticeDetail;
  readonly comparison: PracticeComparison;
}

/** How many failures and runs it takes to know, and a plan by serial in which nothing else differs. */
export function WhatWouldSettle({ detail, comparison }: WhatWouldSettleProps) {
  const { settling, plan } = detail;
  const { settle } = place.value;
  const goal = settle ?? usualGoal;
  const among = (choices: readonly string[], value: number) =>
    [...new Set([...choices, formatNumber(value)])].sort((a, b) => Number(a) - Number(b));
  const ask = (change: Partial<SettlingGoal>) => move({ settle: { ...goal, ...change } });
  const [at, against] = saySides(comparison);
  return (
    <div class="stack">
      <h3 class="table-name">What would settle it</h3>
      <div class="figures">
        <SelectField
          label="A life so many times as long"
          value={formatNumber(goal.multiplier)}
          options={among(multipliers, goal.multiplier)}
          onPick={(value) => ask({ multiplier: Number(value) })}
        />
        <SelectField
          label="Chance to find it"
          value={formatNumber(goal.power)}
          options={among(chances, goal.power)}
          onPick={(value) => ask({ power: Number(value) })}
        />
        <SelectField
          label="Weibull shape of the mode"
          value={goal.shape === null ? null : formatNumber(goal.shape)}
          options={among(shapes, goal.shape ?? 1)}
          all="as these records tell it"
          onPick={(value) => ask({ shape: value === null ? null : Number(value) })}
        />
        {settle === null ? (
          <button type="button" class="button" onClick={() => ask({})}>
            Work out how many runs
          </button>
        ) : null}
      </div>
      {settle === null ? (
        <p class="small muted">Lives are simulated as this shop has them; that takes some seconds.</p>
      ) : (
        <p class="small">{saySettling(settling, detail)}</p>
      )}
      {plan.length === 0 ? null : (
        <details>
          <summary>A trial by serial, alternating at each redress</summary>
          <p class="small muted">
            At its next redress each serial begins with the side named; at the redress after, the other one, and so on.
            Both sides must lie within the maker's limits.
          </p>
          <DataTable
            caption="Trial by serial"
            hideCaption
            rows={plan}
            keyOf={({ serial }) => serial}
            file={fileName(["trial", comparison.practice, comparison.item, comparison.mode], "csv")}
            columns={[
              { title: "Serial", show: ({ serial }) => <SerialLink serial={serial} />, value: ({ serial }) => serial },
              { title: "Tool type", show: ({ toolType }) => toolType, value: ({ toolType }) => toolType },
              {
                title: "Size",
                show: ({ sizeIn }) => (sizeIn === null ? "" : formatSize(sizeIn)),
                value: ({ sizeIn }) => sizeIn,
              },
              {
                title: "Begins with",
                show: ({ first }) => (first === "at" ? at : against),
                value: ({ first }) => (first === "at" ? at : against),
              },
            ]}
          />
        </details>
      )}
    </div>
  );
}
