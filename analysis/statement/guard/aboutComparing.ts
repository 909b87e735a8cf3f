import type { Comparison } from "../types.ts";
import type { Detector } from "./types.ts";

const nameOf = ({ item, mode }: Comparison): string =>
  item === null ? "runs that the tool ended" : `${item}, ${mode ?? ""}`;
/** Points this far apart look like a difference. Common practice, no source. */
const LOOKS_DIFFERENT = 1.2;

/** Two rates whose points look different while the bounds of their ratio hold 1. */
export const pointsCompared: Detector = ({ beforeAfter }) => {
  const unshown = (beforeAfter?.comparisons ?? []).filter(
    ({ verdict, crudeRatio }) =>
      (verdict === "no difference shown" || verdict === "too little to tell") &&
      crudeRatio !== null &&
      (crudeRatio > LOOKS_DIFFERENT || crudeRatio < 1 / LOOKS_DIFFERENT),
  );
  const [first] = unshown;
  if (!first || first.crudeRatio === null) return null;
  return {
    state: "put right",
    misleading: { value: first.crudeRatio, unit: "times" },
    honest: { value: first.ratio.value, unit: "times" },
    facts: {
      what: nameOf(first),
      lower: first.ratio.lower ?? 0,
      ...(first.ratio.upper === null ? {} : { upper: first.ratio.upper }),
      unshown: unshown.length,
    },
  };
};

/** The window leaves out worse history, or "after" begins after the first failures of the change. */
export const windowPicked: Detector = ({ evidence, toolFailureRate }) => {
  const { skipped, allHistory } = evidence;
  if (skipped !== null && skipped.failures > 0) {
    return {
      state: "put right",
      misleading: { value: skipped.ratioWithout, unit: "times" },
      honest: { value: skipped.ratioWith, unit: "times" },
      facts: { failures: skipped.failures, hours: Math.round(skipped.hours), about: "after" },
    };
  }
  const [all, upper] = [allHistory?.rate.value ?? null, toolFailureRate.upper];
  if (allHistory === null || all === null || upper === null || all <= upper) return null;
  return {
    state: "put right",
    misleading: { value: toolFailureRate.value, unit: "per 1,000 h" },
    honest: { value: all, unit: "per 1,000 h" },
    facts: {
      failures: allHistory.failures,
      hours: Math.round(allHistory.hours),
      from: allHistory.from,
      about: "period",
    },
  };
};

/** The one comparison among many that looks clear, but not once their number is allowed for. */
export const bestOfMany: Detector = ({ beforeAfter, definition }) => {
  const limit = 1 - definition.confidence;
  const comparisons = beforeAfter?.comparisons ?? [];
  const [best] = comparisons
    .filter(({ pValue, adjustedPValue }) => pValue < limit && adjustedPValue >= limit)
    .sort((a, b) => a.pValue - b.pValue);
  if (!best) return null;
  return {
    state: "put right",
    misleading: { value: best.pValue, unit: "p" },
    honest: { value: best.adjustedPValue, unit: "p" },
    facts: { what: nameOf(best), comparisons: comparisons.length },
  };
};

/** The stretch before the change was the worst of its length: what follows the worst is better by itself. */
export const worstStretch: Detector = ({ evidence: { earlier } }) => {
  if (earlier === null || !earlier.worst) return null;
  return {
    state: "stays",
    misleading: { value: earlier.ratioToChosen, unit: "times" },
    honest: { value: earlier.ratioToAll, unit: "times" },
    facts: { stretches: earlier.stretches },
  };
};
