import { type Estimate, formatConfidence, type ItemLifeResult } from "../../analysis/index.ts";
import { onCurve, type SurvivalLayout } from "./survivalLayout.ts";
import { estimateText, percent, threeDigits } from "./text/numbers.ts";

/** An estimate drawn on the picture: B10 and median across, the share still good at the stated age upright. */
export interface Reading {
  readonly name: string;
  readonly label: string;
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly across: readonly [low: number, high: number, open: "from" | "to" | "both" | undefined] | null;
  readonly upright: readonly [top: number, bottom: number] | null;
  /** Only a bound is known: the bar is drawn without an estimate on it. */
  readonly boundOnly?: true;
}

export function readingsOf(
  { readings, survival, nonparametric }: ItemLifeResult,
  { x, y, plot }: SurvivalLayout,
): Reading[] {
  // On a narrow picture the bounds are drawn but not written; the label read out says them.
  const narrow = plot.right - plot.left < 420;
  const ages = (
    [
      ["b10", "one in ten failed by", 0.9, readings.b10],
      ["median", "half failed by", 0.5, readings.median],
    ] as const
  ).flatMap(([name, words, share, estimate]): Reading[] => {
    if (estimate.value === null || x(estimate.value) > plot.right) return [];
    const low = estimate.lower === null ? plot.left : x(estimate.lower);
    // A one-sided bound: nothing is said above the estimate, so the bar ends there.
    const above = estimate.sides === "lower" ? estimate.value : estimate.upper;
    const high = above === null ? plot.right : Math.min(plot.right, x(above));
    const openHigh = above === null || x(above) > plot.right;
    const open = estimate.lower === null ? (openHigh ? "both" : "from") : openHigh ? "to" : undefined;
    const text = estimateText(estimate);
    return [
      {
        name,
        label: `${words} ${text}`,
        lines: narrow ? [words, `${threeDigits(estimate.value)} h`] : [words, text],
        x: x(estimate.value),
        y: y(share),
        across: [low, high, open],
        upright: null,
      },
    ];
  });
  const { statedAge, reliability } = readings;
  if (x(statedAge) > plot.right) return ages;
  if (reliability.value === null) return [...ages, ...leastShare(reliability, statedAge, { x, y })];
  const words = `still good at ${threeDigits(statedAge)} h`;
  const text = estimateText(reliability);
  const at = survival === null ? null : onCurve(survival, statedAge);
  return [
    ...ages,
    {
      name: "stated age",
      label: `${words}: ${text}`,
      lines: [words, narrow ? percent(reliability.value) : text],
      x: x(statedAge),
      y: y(at ?? reliability.value),
      across: null,
      upright: [
        y(reliability.sides === "lower" ? reliability.value : (reliability.upper ?? 1)),
        y(reliability.lower ?? nonparametric.steps.at(-1)?.survival ?? 0),
      ],
    },
  ];
}

/** Nothing failed: no line, but the share still good at the stated age has a lower bound, drawn from it up to all. */
function leastShare(
  { lower, confidence }: Estimate,
  statedAge: number,
  { x, y }: Pick<SurvivalLayout, "x" | "y">,
): Reading[] {
  if (lower === null || lower <= 0) return [];
  const words = `still good at ${threeDigits(statedAge)} h`;
  const text = `at least ${percent(lower)} (${formatConfidence(confidence)})`;
  return [
    {
      name: "stated age",
      label: `${words}: ${text}`,
      lines: [words, text],
      x: x(statedAge),
      y: y(lower),
      across: null,
      upright: [y(1), y(lower)],
      boundOnly: true,
    },
  ];
}
