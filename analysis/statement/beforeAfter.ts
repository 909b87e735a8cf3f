import { exactRate } from "../estimation/exactRate.ts";
import { adjustForComparisons } from "./adjustForComparisons.ts";
import { ageBands, bandEdges, sideOf } from "./ageBands.ts";
import { type RateBand, rateRatio } from "./rateRatio.ts";
import type { ScopedData, ScopedRun } from "./scopedData.ts";
import type { BeforeAfter, Comparison, StatementChange } from "./types.ts";

/** Fewer failures than this, on both sides together, tell nothing unless they are all on one side. Common practice, no source. */
const FEW = 5;

/**
 * Failure rates before and after a change: runs that the tool ended, and each mode at the same ages. With a mode in the
 * scope, that mode alone. A difference is shown where the bounds of the ratio exclude 1 and the p-value, allowing for the
 * number of comparisons, is below 1 - confidence.
 */
export function beforeAfter({ runs, groups, study }: ScopedData, change: StatementChange): BeforeAfter {
  const { scope, confidence } = study;
  const manyTypes = new Set(groups.map(({ toolType }) => toolType)).size > 1;
  const raw = [
    ...(scope.mode === null && scope.item === null
      ? [compare({ toolType: null, item: null, mode: null }, [runBand(runs, change)], false, confidence)]
      : []),
    ...groups
      .map(({ toolType, item, mode, exposures }) =>
        compare(
          { toolType: manyTypes ? toolType : null, item, mode },
          ageBands(exposures, scope, change),
          true,
          confidence,
        ),
      )
      .filter(({ before, after }) => before.failures + after.failures > 0),
  ];
  const adjusted = adjustForComparisons(raw.map(({ pValue }) => pValue));
  return {
    change,
    bands: bandEdges,
    comparisons: raw.map((one, index): Comparison => {
      const adjustedPValue = adjusted[index] ?? 1;
      return { ...one, adjustedPValue, verdict: verdictOf(one, adjustedPValue, confidence) };
    }),
  };
}

/** Runs that the tool ended have no age of an item: one band, on the side of the day the run came in. */
export function runBand(runs: readonly ScopedRun[], change: StatementChange): RateBand {
  const band = { before: { failures: 0, hours: 0 }, after: { failures: 0, hours: 0 } };
  for (const { on, hours, failed } of runs) {
    const side = sideOf(change, on);
    if (side === null) continue;
    band[side].hours += hours;
    if (failed) band[side].failures++;
  }
  return band;
}

type Unjudged = Omit<Comparison, "adjustedPValue" | "verdict">;

function compare(
  what: Pick<Comparison, "toolType" | "item" | "mode">,
  bands: readonly RateBand[],
  ageStandardised: boolean,
  confidence: number,
): Unjudged {
  const sideSum = (side: "before" | "after") => {
    const failures = bands.reduce((sum, band) => sum + band[side].failures, 0);
    const hours = bands.reduce((sum, band) => sum + band[side].hours, 0);
    return { failures, hours, rate: exactRate({ failures, hours, confidence }) };
  };
  const [before, after] = [sideSum("before"), sideSum("after")];
  const { ratio, lower, upper, pValue, failures } = rateRatio(bands, confidence);
  const known = failures > 0;
  return {
    ...what,
    before,
    after,
    ratio: {
      value: ratio,
      lower: known ? lower : null,
      upper,
      confidence,
      method: known ? "exact conditional" : "none",
      unit: "none",
      ...(ratio === null ? { why: known ? ("not reached" as const) : ("no failures" as const) } : {}),
    },
    crudeRatio:
      before.failures > 0 && after.hours > 0 ? after.failures / after.hours / (before.failures / before.hours) : null,
    ageStandardised,
    pValue,
  };
}

function verdictOf(
  { ratio, before, after }: Unjudged,
  adjustedPValue: number,
  confidence: number,
): Comparison["verdict"] {
  const clear = adjustedPValue < 1 - confidence;
  if (clear && ratio.upper !== null && ratio.upper < 1) return "fewer";
  if (clear && ratio.lower !== null && ratio.lower > 1) return "more";
  const few = before.failures + after.failures < FEW || before.hours === 0 || after.hours === 0;
  return few ? "too little to tell" : "no difference shown";
}
