import { scaleLinear, scaleLog } from "d3-scale";
import type { ItemLifeResult } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { logTicks } from "./kit/ticks.ts";
import { ageTitle, lastAge } from "./survivalLayout.ts";
import { threeDigits, whole } from "./text/numbers.ts";

export interface ProbabilityLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Hours to px, logarithmic. */
  readonly x: ReturnType<typeof scaleLog<number, number>>;
  /** Failed fraction, above 0 and below 1, to px: even in log(-log(1 - F)), on which a Weibull law is straight. */
  readonly y: (failedFraction: number) => number;
  readonly xTicks: readonly Tick[];
  readonly yTicks: readonly Tick[];
  readonly xTitle: string;
  readonly yTitle: string;
  readonly lowestAge: number;
  readonly lowest: number;
  readonly highest: number;
}

const shares = [
  0.0001, 0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999,
];

const straight = (failedFraction: number): number => Math.log(-Math.log(1 - failedFraction));

export function probabilityLayout(result: ItemLifeResult, { width, height, finding }: ChartSize): ProbabilityLayout {
  const { plotPoints, survival } = result;
  const top = header(finding, width).height;
  const xTitle = `${ageTitle(result)}, log scale`;
  const to = lastAge(result);
  const positive = plotPoints.flatMap(({ low, high }) => [low, high]).filter((age) => age > 0);
  const lowestAge = Math.min(to / 8, ...positive.map((age) => 0.8 * age));
  const onLine =
    survival === null
      ? []
      : survival.value.filter((_, i) => (survival.age[i] ?? 0) >= lowestAge && (survival.age[i] ?? 0) <= to);
  const failed = [...plotPoints.map((point) => point.failedFraction), ...onLine.map((share) => 1 - share)].filter(
    (share) => share > 0 && share < 1,
  );
  const lowest = shares.filter((share) => share <= Math.min(0.1, ...failed)).at(-1) ?? 0.0001;
  const highest = shares.find((share) => share >= Math.max(0.5, ...failed)) ?? 0.999;
  const ticks = shares.filter((share) => share >= lowest && share <= highest);
  const left = gutter + tickRoom(ticks.map((share) => threeDigits(100 * share)));
  const right = width - gutter - 4;
  const below = bottomAxisHeight(xTitle, right - left);
  const tall = height ?? top + Math.round(Math.min(480, Math.max(320, width * 0.48))) + below;
  const plot: Plot = { left, right, top: top + 28, bottom: tall - below };
  const x = scaleLog([lowestAge, to], [plot.left, plot.right]);
  const even = scaleLinear([straight(lowest), straight(highest)], [plot.bottom, plot.top]);
  const y = (share: number): number => even(straight(Math.min(1 - 1e-12, Math.max(1e-12, share))));
  return {
    height: tall,
    plot,
    x,
    y,
    xTicks: logTicks(lowestAge, to, right - left).map((age) => ({
      at: x(age),
      text: age < 1 ? threeDigits(age) : whole(age),
    })),
    yTicks: spaced(ticks.map((share) => ({ at: y(share), text: threeDigits(100 * share) }))),
    xTitle,
    yTitle: "Failed, %",
    lowestAge,
    lowest,
    highest,
  };
}

/** Ticks at least 17 px apart, from the top down. */
function spaced(ticks: readonly Tick[]): Tick[] {
  const kept: Tick[] = [];
  for (const tick of [...ticks].reverse()) {
    if (kept.every((other) => Math.abs(other.at - tick.at) >= 17)) kept.push(tick);
  }
  return kept;
}
