import { scaleLinear } from "d3-scale";
import type { Estimate, WhatFailsResult } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { textSize } from "./kit/Text.tsx";
import { evenTicks } from "./kit/ticks.ts";
import { textWidth, wrapText } from "./text/measure.ts";
import { threeDigits } from "./text/numbers.ts";

export interface ModeName {
  readonly item: string;
  readonly mode: string;
}

export interface SeriesPoint {
  readonly period: string;
  readonly failures: number;
  readonly hours: number;
  readonly rate: Estimate;
  readonly x: number;
}

export interface Series {
  readonly name: string;
  /** Null for all modes together. */
  readonly of: ModeName | null;
  /** Place in the fixed order of categories. */
  readonly order: number;
  readonly points: readonly SeriesPoint[];
}

export interface OverTimeLayout {
  readonly height: number;
  readonly plot: Plot;
  readonly y: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly (Tick & { readonly lines: readonly string[] })[];
  readonly yTicks: readonly Tick[];
  readonly yTitle: string;
  readonly series: readonly Series[];
  /** Names at the line ends where there is room, else in rows above the plot. */
  readonly namesAt: "ends" | "rows";
  readonly keyTop: number;
}

const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** Most lines one picture carries with marks of their own. */
export const mostSeries = 6;

/** `modes` up to six chosen modes; none chosen means all modes together. */
export function ratesOverTimeLayout(
  result: WhatFailsResult,
  { width, height, finding, modes = [] }: ChartSize & { readonly modes?: readonly ModeName[] },
): OverTimeLayout {
  const names = [...modes]
    .map((of) => ({ of, name: `${of.item}, ${of.mode}` }))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .slice(0, mostSeries);
  const chosen: readonly { of: ModeName | null; name: string }[] =
    names.length > 0 ? names : [{ of: null, name: "all modes" }];
  const yTitle = "Failures per 1,000 h";
  const endRoom = Math.max(...chosen.map(({ name }) => textWidth(name, textSize))) + 22;
  const namesAt = width >= 700 ? "ends" : "rows";
  const keyTop = header(finding, width).height;
  const top = keyTop + (namesAt === "rows" ? chosen.length * 18 + 8 : 0) + 28;
  const cellOf = (period: WhatFailsResult["periods"][number], of: ModeName | null) =>
    of === null ? period : period.byMode.find((cell) => cell.item === of.item && cell.mode === of.mode);
  const cells = chosen.flatMap(({ of }) => result.periods.flatMap((period) => cellOf(period, of) ?? []));
  // One scanty half-year with a bound far up must not flatten the rest: its bar then runs out of the picture.
  const values = cells.map((cell) => cell.rate.value ?? 0);
  const uppers = cells.map((cell) => cell.rate.upper ?? 0);
  const to = Math.max(
    0.001,
    Math.min(1.06 * Math.max(0, ...uppers), 2.6 * Math.max(...values, 0.3 * Math.max(0, ...uppers))),
  );
  const yTexts = evenTicks(to, 6);
  const left = gutter + tickRoom(yTexts.map(threeDigits));
  const right = width - gutter - (namesAt === "ends" ? endRoom : 0);
  const step = (right - left) / Math.max(1, result.periods.length);
  const middle = (index: number): number => left + (index + 0.5) * step;
  const spread = Math.min(11, (step * 0.7) / chosen.length);
  // Where a label would break inside a word, the month stands alone and the year under the first of each year.
  const short = result.periods.some(({ label }) =>
    label.split(" ").some((word) => textWidth(word, textSize) > step - 4),
  );
  const xLines = result.periods.map(({ label, from }, index) => {
    if (!short) return wrapText(label, step - 4, textSize);
    const [year = "", month = ""] = from.split("-");
    return [months[Number(month) - 1] ?? month, ...(index === 0 || month === "01" ? [year] : [])];
  });
  const below = bottomAxisHeight("", right - left) + Math.max(1, ...xLines.map((lines) => lines.length)) * 16 - 12;
  const tall = height ?? top + Math.round(Math.min(340, Math.max(220, width * 0.3))) + below;
  const plot: Plot = { left, right, top, bottom: tall - below };
  const y = scaleLinear([0, to], [plot.bottom, plot.top]);
  return {
    height: tall,
    plot,
    y,
    xTicks: result.periods.map(({ label }, index) => ({ at: middle(index), text: label, lines: xLines[index] ?? [] })),
    yTicks: yTexts.map((rate) => ({ at: y(rate), text: threeDigits(rate) })),
    yTitle,
    series: chosen.map(({ of, name }, order) => ({
      name,
      of,
      order,
      points: result.periods.flatMap((period, index): SeriesPoint[] => {
        const cell = cellOf(period, of);
        const aside = (order - (chosen.length - 1) / 2) * spread;
        return cell
          ? [
              {
                period: period.label,
                failures: cell.failures,
                hours: cell.hours,
                rate: cell.rate,
                x: middle(index) + aside,
              },
            ]
          : [];
      }),
    })),
    namesAt,
    keyTop,
  };
}
