import { scaleLinear } from "d3-scale";
import type { ModeRate, WhatFailsResult } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { textSize } from "./kit/Text.tsx";
import { evenTicks } from "./kit/ticks.ts";
import { textWidth } from "./text/measure.ts";
import { boundsText, threeDigits, whole } from "./text/numbers.ts";

export interface RateRow {
  readonly rate: ModeRate;
  /** Middle of the row in px. */
  readonly y: number;
  readonly value: string;
  readonly count: string;
}

export interface RateGroup {
  readonly toolType: string;
  /** Where the tool type is written beside the item; null where there is only one. */
  readonly toolTypeAt: number | null;
  readonly item: string;
  readonly y: number;
  readonly rows: readonly RateRow[];
}

export interface RateLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Failures per 1,000 h to px, from zero. */
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly xTitle: string;
  readonly groups: readonly RateGroup[];
  readonly rowHeight: number;
  readonly modeAt: number;
  /** Right edges of the columns of numbers; null where there is no room for the column. */
  readonly valueAt: number | null;
  readonly countAt: number;
  readonly countTitle: string;
}

/** Rows by item, the item with the highest rate first, and within it the mode with the highest rate. */
export function rateLayout(result: WhatFailsResult, { width, height, finding }: ChartSize): RateLayout {
  const top = header(finding, width).height + 22;
  const many = new Set(result.modes.map((mode) => mode.toolType)).size > 1;
  const roomy = width >= 760;
  const countOf = (rate: ModeRate): string =>
    width < 480
      ? whole(rate.failures)
      : `${whole(rate.failures)} in ${whole(rate.hours)} h${roomy ? (rate.announces === "hidden" ? " inspected" : " run") : ""}`;
  const groups = new Map<string, ModeRate[]>();
  const rank = (rate: ModeRate): number => rate.rate.value ?? -1;
  for (const mode of [...result.modes].sort((a, b) => rank(b) - rank(a))) {
    const key = JSON.stringify([mode.toolType, mode.item]);
    groups.set(key, [...(groups.get(key) ?? []), mode]);
  }
  const xTitle = "Failures per 1,000 h";
  const between = 10;
  const rows = result.modes.length;
  const fixed = groups.size * (20 + between) + bottomAxisHeight(xTitle, 400);
  const rowHeight = height === undefined ? 23 : Math.max(15, (height - top - fixed) / Math.max(1, rows));
  let y = top;
  const placed = [...groups.values()].map((modes): RateGroup => {
    const at = y;
    const { item, toolType } = modes[0] ?? { item: "", toolType: "" };
    y += 20;
    const placedRows = modes.map((rate): RateRow => {
      const row = { rate, y: y + rowHeight / 2, value: valueText(rate), count: countOf(rate) };
      y += rowHeight;
      return row;
    });
    y += between;
    const toolTypeAt = many ? gutter + textWidth(item, textSize, "semibold") + 8 : null;
    return { toolType, toolTypeAt, item, y: at, rows: placedRows };
  });
  const wide = (texts: readonly string[]): number => Math.max(0, ...texts.map((text) => textWidth(text, textSize)));
  const modeAt = gutter + 10;
  const left = modeAt + wide(result.modes.map((mode) => mode.mode)) + 14;
  const countTitle = width < 480 ? "failures" : "failures in hours";
  const countRoom = wide([countTitle, ...placed.flatMap((group) => group.rows.map((row) => row.count))]);
  const valueRoom = wide(placed.flatMap((group) => group.rows.map((row) => row.value)));
  const countAt = width - gutter;
  const valueAt = width >= 620 ? countAt - countRoom - 20 : null;
  const right = valueAt === null ? countAt - countRoom - 14 : valueAt - valueRoom - 18;
  const highest = Math.max(
    0.001,
    ...result.modes.map((mode) => Math.max(mode.rate.value ?? 0, mode.few ? 0 : (mode.rate.upper ?? 0))),
  );
  const to = 1.06 * highest;
  const x = scaleLinear([0, to], [left, right]);
  const plot: Plot = { left, right, top: top + 4, bottom: y };
  return {
    height: y + bottomAxisHeight(xTitle, right - left),
    plot,
    x,
    xTicks: evenTicks(to, Math.max(2, (right - left) / 64)).map((rate) => ({ at: x(rate), text: threeDigits(rate) })),
    xTitle,
    groups: placed,
    rowHeight,
    modeAt,
    valueAt,
    countAt,
    countTitle,
  };
}

function valueText({ rate, failures }: ModeRate): string {
  if (rate.value === null) return rate.why ?? "not known";
  return failures === 0 ? `no failures (${boundsText(rate)})` : `${threeDigits(rate.value)} (${boundsText(rate)})`;
}
