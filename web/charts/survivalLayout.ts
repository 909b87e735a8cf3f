import { scaleLinear } from "d3-scale";
import type { CurveOnGrid, ItemLifeResult } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { lineHeight } from "./kit/placement.ts";
import { textSize } from "./kit/Text.tsx";
import { hourTicks } from "./kit/ticks.ts";
import { type Survivors, survivorsOf } from "./survivors.ts";
import { textWidth, wrapText } from "./text/measure.ts";
import { estimateText, highAge, whole } from "./text/numbers.ts";

export interface SurvivalLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Hours to px and back (`x.invert`). */
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  /** Share still good, 0 to 1, to px. */
  readonly y: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  readonly xTitle: string;
  readonly yTitle: string;
  /** Baseline of the titles above the plot. */
  readonly titlesAt: number;
  /** Height above the plot at which survivors are marked. */
  readonly survivorsAt: number;
  readonly survivors: Survivors;
  readonly survivorsTitle: string;
  /** How long the defect takes to become the failure, in words under the heading; no lines where there is no such pair. */
  readonly note: readonly string[];
  readonly noteAt: number;
}

/** "Circulating hours since renewed", from the failure definition. */
export function ageTitle({ failureDefinition }: ItemLifeResult): string {
  const kind = failureDefinition.hoursKind;
  const restored = [...new Set(failureDefinition.modes.map((mode) => mode.restoredBy))].join(" or ");
  const hours = kind === null ? "Operating hours" : `${kind.charAt(0).toUpperCase()}${kind.slice(1)} hours`;
  return `${hours} since ${restored === "" ? "restored" : restored === "made up" ? "made up again" : restored}`;
}

/** Longest age worth drawing: all that was followed, and the readings with their bounds as far as the curve goes. */
export function lastAge({ longestAge, survival, readings, histories }: ItemLifeResult): number {
  const followed = Math.max(longestAge, ...histories.map((life) => highAge(life.upper ?? life.lower)), 1);
  const end = survival?.age.at(-1) ?? 0;
  const wanted = [readings.b10, readings.median].flatMap(({ value, upper }) => [value ?? 0, upper ?? value ?? 0]);
  return Math.max(followed * 1.04, Math.min(end, Math.max(...wanted.map((age) => age * 1.08)), followed * 1.7));
}

/** How long a defect takes to become the failure it leads to; nothing where the mode leads nowhere. */
export function delayNote({ mode, linked }: ItemLifeResult): readonly string[] {
  if (linked === null || linked.delay === null || mode !== linked.defect) return [];
  const { tenth, median } = linked.delay;
  return [
    `Once ${mode} has come, one in ten goes on to ${linked.failure} within ${estimateText(tenth)}, half within ${estimateText(median)}.`,
  ];
}

/** Value of a curve between its grid points, linearly; null outside the grid. */
export function onCurve(curve: CurveOnGrid, age: number, line: "value" | "lower" | "upper" = "value"): number | null {
  const next = curve.age.findIndex((at) => at >= age);
  const [high, low] = [curve.age[next], curve.age[Math.max(0, next - 1)]];
  const [b, a] = [curve[line][next], curve[line][Math.max(0, next - 1)]];
  if (high === undefined || low === undefined || a === undefined || b === undefined) return null;
  return high === low ? b : a + ((b - a) * (age - low)) / (high - low);
}

export function survivalLayout(result: ItemLifeResult, { width, height, finding }: ChartSize): SurvivalLayout {
  const top = header(finding, width).height;
  const xTitle = ageTitle(result);
  const yTitle = "Share still good, %";
  const yShares = [0, 0.2, 0.4, 0.6, 0.8, 1];
  const left = gutter + tickRoom(["100"]);
  const right = width - gutter - 4;
  const below = bottomAxisHeight(xTitle, right - left);
  const note = delayNote(result).flatMap((words) => wrapText(words, width - 2 * gutter, textSize));
  const noted = note.length === 0 ? 0 : note.length * lineHeight(textSize) + 8;
  const count = result.histories.filter((life) => life.kind === "right").length;
  const wordsRoom = width - 2 * gutter - textWidth(yTitle, textSize) - 24;
  const titles = [`still good when last seen: ${count}, ticks by count`, `still good when last seen: ${count}`];
  const tall = height ?? top + noted + Math.round(Math.min(460, Math.max(300, width * 0.44))) + below;
  const plot: Plot = { left, right, top: top + noted + 50, bottom: tall - below };
  const x = scaleLinear([0, lastAge(result)], [plot.left, plot.right]);
  const y = scaleLinear([0, 1], [plot.bottom, plot.top]);
  const survivors = survivorsOf(result.histories, x);
  const [counted = "", plain = ""] = titles;
  const binned = survivors.bins.length > 0 && textWidth(counted, textSize) <= wordsRoom;
  return {
    height: tall,
    plot,
    x,
    y,
    xTicks: hourTicks(lastAge(result), Math.max(3, (right - left) / 70)).map((age) => ({
      at: x(age),
      text: whole(age),
    })),
    yTicks: yShares.map((share) => ({ at: y(share), text: whole(100 * share) })),
    xTitle,
    yTitle,
    titlesAt: plot.top - 30,
    survivorsAt: plot.top - 12,
    survivors,
    survivorsTitle: count === 0 ? "" : binned ? counted : plain,
    note,
    noteAt: top + 8,
  };
}
