import { scaleLinear } from "d3-scale";
import type { PracticeComparison, PracticeDetail, PracticeLife } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { evenTicks, hourTicks } from "./kit/ticks.ts";
import { threeDigits, whole } from "./text/numbers.ts";

type Scale = ReturnType<typeof scaleLinear<number, number>>;

export interface LifeAgainstLayout {
  readonly height: number;
  /** Multiplier of life over the number; null where the lives tell no line. */
  readonly curvePlot: Plot | null;
  readonly livesPlot: Plot;
  readonly x: Scale;
  readonly times: Scale;
  readonly hours: Scale;
  readonly xTicks: readonly Tick[];
  readonly timesTicks: readonly Tick[];
  readonly hoursTicks: readonly Tick[];
  readonly xTitle: string;
  readonly failed: readonly PracticeLife[];
  readonly survived: readonly PracticeLife[];
}

export const timesTitle = "Times as long";
export const hoursTitle = "Hours run";

/** The curve over the lives, both against the same number. */
export function lifeAgainstLayout(
  { curve, histories }: PracticeDetail,
  { title, unit }: PracticeComparison,
  { width, finding }: ChartSize,
): LifeAgainstLayout {
  const lives = histories.filter((life): life is PracticeLife & { at: number } => life.at !== null);
  const values = [...lives.map(({ at }) => at), ...(curve?.at ?? [])];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const margin = 0.04 * (most - least || 1);
  const top = header(finding, width).height + 26;
  const timesTo = Math.min(4, Math.max(1.5, 1.05 * Math.max(1, ...(curve?.upper ?? []))));
  const longest = Math.max(10, ...lives.map(({ lower, upper }) => upper ?? lower));
  const timesAt = evenTicks(timesTo, 4);
  const hoursAt = hourTicks(longest, 5);
  const left = gutter + Math.max(tickRoom(timesAt.map(threeDigits)), tickRoom(hoursAt.map(whole)));
  const right = width - gutter - 4;
  const x = scaleLinear([least - margin, most + margin], [left, right]);
  const curveHeight = curve === null ? 0 : Math.round(Math.min(240, Math.max(150, 0.24 * width)));
  const curvePlot = curve === null ? null : { left, right, top, bottom: top + curveHeight };
  const livesTop = curvePlot === null ? top : curvePlot.bottom + 40;
  const livesPlot = {
    left,
    right,
    top: livesTop,
    bottom: livesTop + Math.round(Math.min(300, Math.max(180, 0.3 * width))),
  };
  const xTitle = unit === null ? title : `${title} (${unit})`;
  const step = niceStep(most - least, Math.max(2, (right - left) / 90));
  const first = Math.ceil((least - margin) / step);
  const count = Math.floor((most + margin) / step) - first + 1;
  const times = scaleLinear([0, timesTo], curvePlot === null ? [0, 0] : [curvePlot.bottom, curvePlot.top]);
  const hours = scaleLinear([0, 1.04 * longest], [livesPlot.bottom, livesPlot.top]);
  return {
    height: livesPlot.bottom + bottomAxisHeight(xTitle, right - left),
    curvePlot,
    livesPlot,
    x,
    times,
    hours,
    xTicks: Array.from({ length: count }, (_, index) => {
      const value = Number(((first + index) * step).toPrecision(12));
      return { at: x(value), text: threeDigits(value) };
    }),
    timesTicks: curvePlot === null ? [] : timesAt.map((value) => ({ at: times(value), text: threeDigits(value) })),
    hoursTicks: hoursAt.map((value) => ({ at: hours(value), text: whole(value) })),
    xTitle,
    failed: lives.filter(({ upper }) => upper !== null),
    survived: lives.filter(({ upper }) => upper === null),
  };
}

function niceStep(range: number, count: number): number {
  const rough = (range || 1) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((factor) => factor * power >= rough * 0.999) ?? 10) * power;
}
