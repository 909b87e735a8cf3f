import { scaleLinear } from "d3-scale";
import { type LineWithBounds, type RedressIntervalResult, readLine } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { between, type Point } from "./kit/paths.ts";
import { evenTicks, hourTicks } from "./kit/ticks.ts";
import { threeDigits, whole } from "./text/numbers.ts";

/** Which line of the result: what it costs, the chance before the redress, the chance in a run begun at the age. */
export type IntervalPicture = "cost" | "before" | "run";

export interface IntervalLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Hours to px and back (`x.invert`). */
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly y: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  readonly xTitle: string;
  readonly yTitle: string;
  /** The line and its bounds as far as they stay in the picture. */
  readonly line: readonly Point[];
  readonly lower: readonly Point[];
  readonly upper: readonly Point[];
  /** x where experience ends; the right edge where it does not. */
  readonly experience: number;
}

export const lineOf = ({ curves }: RedressIntervalResult, picture: IntervalPicture): LineWithBounds =>
  picture === "cost" ? curves.costRate : picture === "before" ? curves.stoppedBefore : curves.nextRun;

export function intervalLayout(
  result: RedressIntervalResult,
  picture: IntervalPicture,
  { width, height, finding }: ChartSize,
): IntervalLayout {
  const { curves, risk, currency, longestAge } = result;
  const line = lineOf(result, picture);
  const last = curves.age.at(-1) ?? 1;
  const most = highestOf(result, picture);
  const yTitle =
    picture === "cost" ? `Cost per 1,000 h, ${currency ?? "planned redresses"}` : "Chance of a stopped job, %";
  const xTitle =
    picture === "run"
      ? `Hours since the redress when a ${threeDigits(risk.runHours)}-h run begins`
      : "Interval, hours since the redress";
  const yValues = evenTicks(most, 5);
  const yTexts = yValues.map((value) => threeDigits(picture === "cost" ? value : 100 * value));
  const left = gutter + tickRoom(yTexts);
  const right = width - gutter - 4;
  const top = header(finding, width).height;
  const below = bottomAxisHeight(xTitle, right - left);
  const tall = height ?? top + Math.round(Math.min(400, Math.max(270, width * 0.4))) + below;
  const plot: Plot = { left, right, top: top + 30, bottom: tall - below };
  const x = scaleLinear([0, last], [plot.left, plot.right]);
  const y = scaleLinear([0, most], [plot.bottom, plot.top]);
  const points = (values: readonly number[]): Point[] =>
    values.map((value, at): Point => [x(curves.age[at] ?? 0), y(value)]);
  const from = startOf(points(line.value), plot.top);
  const cut = (values: readonly number[]): Point[] =>
    between(points(values), from, plot.right).map(([at, level]): Point => [at, Math.max(plot.top, level)]);
  return {
    height: tall,
    plot,
    x,
    y,
    xTicks: hourTicks(last, Math.max(3, (right - left) / 70)).map((age) => ({ at: x(age), text: whole(age) })),
    yTicks: yValues.map((value, at) => ({ at: y(value), text: yTexts[at] ?? "" })),
    xTitle,
    yTitle,
    line: cut(line.value),
    lower: cut(line.lower),
    upper: cut(line.upper),
    experience: Math.min(plot.right, x(longestAge)),
  };
}

/** The top of the picture: the cost where it is flat and without redresses, or the chances, with a little room. */
function highestOf(result: RedressIntervalResult, picture: IntervalPicture): number {
  const { curves, recommended, runToFailure, risk } = result;
  if (picture !== "cost") {
    const line = lineOf(result, picture);
    return Math.min(
      1,
      1.1 * Math.max(risk.allowedChance * 1.3, ...line.upper.slice(0, Math.ceil(line.upper.length * 0.8))),
    );
  }
  const least = Math.min(...curves.costRate.value);
  const flat = recommended === null ? [] : [recommended.flatFrom, recommended.flatTo];
  const upper = flat.map((age) => readLine(curves.age, curves.costRate, age)?.upper ?? 0);
  return Math.max(
    least * 1.9,
    ...upper.map((value) => value * 1.15),
    Math.min((runToFailure.value ?? 0) * 1.15, least * 4),
  );
}

/** x at which a line that falls from above enters the picture. */
function startOf(points: readonly Point[], top: number): number {
  const first = points.findIndex(([, level]) => level >= top);
  const [before, here] = [points[first - 1], points[first]];
  if (here === undefined) return points[0]?.[0] ?? 0;
  if (before === undefined) return here[0];
  return before[0] + ((here[0] - before[0]) * (top - before[1])) / (here[1] - before[1]);
}
