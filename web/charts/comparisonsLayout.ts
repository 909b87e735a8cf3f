import { scaleLog } from "d3-scale";
import type { Estimate } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { lineHeight } from "./kit/placement.ts";
import { textSize } from "./kit/Text.tsx";
import { logTicks } from "./kit/ticks.ts";
import { textWidth, wrapText } from "./text/measure.ts";
import { boundsText, threeDigits } from "./text/numbers.ts";

/** A ratio of rates to draw. */
export interface RatioRow {
  readonly name: string;
  readonly ratio: Estimate;
  /** A difference is shown. */
  readonly shown: boolean;
  /** What its mark says. */
  readonly label: string;
}

export interface ComparisonRow {
  readonly comparison: RatioRow;
  readonly name: readonly string[];
  readonly y: number;
  readonly value: string;
}

export interface ComparisonsLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Ratio of rates to px, logarithmic. */
  readonly x: ReturnType<typeof scaleLog<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly xTitle: string;
  readonly rows: readonly ComparisonRow[];
  /** Right edge of the column of numbers; null where there is no room for it. */
  readonly valueAt: number | null;
}

/** Ratios beyond these say no more than "far less" and "far more"; bounds that reach further are drawn open. */
const furthest = 20;

/** One row a comparison, in the order given; those without a ratio or bounds are left to the table. */
export function comparisonsLayout(comparisons: readonly RatioRow[], { width, finding }: ChartSize): ComparisonsLayout {
  const top = header(finding, width).height + 14;
  const drawn = comparisons.filter(({ ratio }) => ratio.lower !== null);
  const values = drawn.map(valueText);
  const valueRoom = Math.max(0, ...values.map((text) => textWidth(text, textSize)));
  const nameRoom = Math.min(0.34 * width, Math.max(60, ...drawn.map(({ name }) => textWidth(name, textSize))));
  const names = drawn.map(({ name }) => wrapText(name, nameRoom, textSize));
  const rowHeight = Math.max(36, 12 + lineHeight(textSize) * Math.max(0, ...names.map((lines) => lines.length)));
  const valueAt = width >= 620 ? width - gutter : null;
  const plot: Plot = {
    left: gutter + nameRoom + 16,
    right: valueAt === null ? width - gutter : valueAt - valueRoom - 16,
    top,
    bottom: top + rowHeight * Math.max(1, drawn.length),
  };
  const ends = drawn.flatMap(({ ratio }) =>
    [ratio.lower, ratio.value, ratio.upper].flatMap((one) => (one === null || one <= 0 ? [] : [one])),
  );
  // A little further than the furthest end, so that its cap is seen.
  const reach = Math.min(furthest, Math.max(2, ...ends.map((end) => 1.1 * Math.max(end, 1 / end))));
  const x = scaleLog([1 / reach, reach], [plot.left, plot.right]).clamp(true);
  const xTitle = "Rate after over rate before (logarithmic)";
  return {
    height: plot.bottom + bottomAxisHeight(xTitle, plot.right - plot.left),
    plot,
    x,
    xTicks: logTicks(1 / reach, reach, plot.right - plot.left).map((tick) => ({
      at: x(tick),
      text: threeDigits(tick),
    })),
    xTitle,
    rows: drawn.map((comparison, index) => ({
      comparison,
      name: names[index] ?? [],
      y: plot.top + (index + 0.5) * rowHeight,
      value: values[index] ?? "",
    })),
    valueAt,
  };
}

function valueText({ ratio }: RatioRow): string {
  return ratio.value === null ? boundsText(ratio) : `${threeDigits(ratio.value)} (${boundsText(ratio)})`;
}
