import type { WhatFailsResult } from "../../analysis/index.ts";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import type { Box } from "./kit/placement.ts";
import { textSize } from "./kit/Text.tsx";
import { evenTicks } from "./kit/ticks.ts";
import { textWidth } from "./text/measure.ts";
import { threeDigits, whole } from "./text/numbers.ts";

export type DrawnItem = WhatFailsResult["drawing"][number]["items"][number];

/** One item on the drawing: its stretch along the tool and where its words stand. */
export interface Station {
  readonly item: DrawnItem;
  readonly from: number;
  readonly to: number;
  /** Step of the scale, 0 to 4; null where the item is not followed. */
  readonly step: number | null;
  readonly lines: readonly [name: string, value: string];
  readonly labelX: number;
  readonly labelY: number;
  readonly side: "above" | "below" | "beside";
}

export interface DrawnTool {
  readonly toolType: string;
  /** Baseline of the tool's name; null where there is only one tool. */
  readonly nameAt: number | null;
  /** Axis of the tool in px: y of a level tool, x of an upright one. */
  readonly axis: number;
  readonly from: number;
  readonly to: number;
  readonly stations: readonly Station[];
}

export interface ToolDrawingLayout {
  readonly height: number;
  readonly direction: "level" | "upright";
  /** Outer radius of the drawn tool. */
  readonly radius: number;
  readonly tools: readonly DrawnTool[];
  readonly legend: {
    readonly y: number;
    readonly swatches: readonly Box[];
    readonly limits: readonly number[];
    readonly few: { readonly x: number; readonly y: number };
  };
}

/** Length of a kind along the drawn tool, relative to a seal. */
const lengths: Readonly<Record<DrawnItem["kind"], number>> = {
  body: 2.2,
  joint: 1.5,
  seal: 1,
  stack: 2.4,
  guide: 1.5,
  pin: 0.9,
};

const nameWidth = (lines: readonly [string, string]): number =>
  Math.max(textWidth(lines[0], textSize, "semibold"), textWidth(lines[1], textSize));

/** Level where every item's words fit beside each other above and below the tool, else upright. */
export function toolDrawingLayout(result: WhatFailsResult, { width, finding }: ChartSize): ToolDrawingLayout {
  const limits = limitsOf(result);
  const stepOf = (rate: number | null): number | null =>
    rate === null ? null : Math.min(4, Math.max(0, limits.filter((limit, index) => index > 0 && rate > limit).length));
  const several = result.drawing.length > 1;
  const inner = width - 2 * gutter;
  const worded = result.drawing.map((tool) => ({
    toolType: tool.toolType,
    items: [...tool.items]
      .sort((a, b) => (a.position ?? Number.POSITIVE_INFINITY) - (b.position ?? Number.POSITIVE_INFINITY) || 0)
      .map((item) => ({ item, lines: [item.item, valueText(item)] as const })),
  }));
  const level =
    width >= 640 &&
    worded.every(({ items }) =>
      [0, 1].every((side) => {
        const own = items.filter((_, index) => index % 2 === side);
        return own.reduce((sum, { lines }) => sum + nameWidth(lines) + 14, 0) <= inner;
      }),
    );
  const radius = level ? 50 : 38;
  let y = header(finding, width).height;
  const tools = worded.map(({ toolType, items }): DrawnTool => {
    const nameAt = several ? y + 12 : null;
    if (several) y += 22;
    if (level) {
      const axis = y + 52 + 22 + radius;
      const [from, to] = [gutter + 26, width - gutter - 26];
      y = axis + radius + 22 + 52;
      const spans = spread(
        items.map(({ item }) => lengths[item.kind]),
        from,
        to,
      );
      const placedX = items.map(() => 0);
      for (const side of [0, 1]) {
        const own = items.map((_, index) => index).filter((index) => index % 2 === side);
        const wanted = own.map((index) => {
          const span = spans[index] ?? [from, to];
          return { middle: (span[0] + span[1]) / 2, half: nameWidth(items[index]?.lines ?? ["", ""]) / 2 };
        });
        middlesApart(wanted, gutter, width - gutter).forEach((middle, place) => {
          placedX[own[place] ?? 0] = middle;
        });
      }
      return {
        toolType,
        nameAt,
        axis,
        from,
        to,
        stations: items.map(({ item, lines }, index): Station => {
          const above = index % 2 === 0;
          const [start, end] = spans[index] ?? [from, to];
          return {
            item,
            lines,
            from: start,
            to: end,
            step: stepOf(item.shrunkenRate),
            labelX: placedX[index] ?? 0,
            labelY: above ? axis - radius - 22 - 22 : axis + radius + 22 + 12,
            side: above ? "above" : "below",
          };
        }),
      };
    }
    const from = y + 34;
    const heights = items.map(({ item }) => Math.max(42, 26 * lengths[item.kind]));
    const to = from + heights.reduce((sum, height) => sum + height, 0);
    y = to + 42;
    let at = from;
    return {
      toolType,
      nameAt,
      axis: gutter + radius + 2,
      from,
      to,
      stations: items.map(({ item, lines }, index): Station => {
        const start = at;
        at += heights[index] ?? 42;
        return {
          item,
          lines,
          from: start,
          to: at,
          step: stepOf(item.shrunkenRate),
          labelX: gutter + 2 * radius + 32,
          labelY: (start + at) / 2 - 4,
          side: "beside",
        };
      }),
    };
  });
  const legendY = y + 26;
  const swatch = Math.min(56, (inner - 20) / 5);
  const fewBeside = gutter + 5 * swatch + 190 < width;
  return {
    height: legendY + (fewBeside ? 46 : 72),
    direction: level ? "level" : "upright",
    radius,
    tools,
    legend: {
      y: legendY,
      swatches: [0, 1, 2, 3, 4].map((index) => ({ x: gutter + index * swatch, y: legendY, width: swatch, height: 12 })),
      limits,
      few: fewBeside ? { x: gutter + 5 * swatch + 36, y: legendY } : { x: gutter, y: legendY + 40 },
    },
  };
}

/** Five limits from zero, in steps a person would choose; more than the fifth falls in the last step. */
function limitsOf({ drawing }: WhatFailsResult): number[] {
  const highest = Math.max(0, ...drawing.flatMap((tool) => tool.items.map((item) => item.shrunkenRate ?? 0)));
  const ticks = evenTicks(highest || 1, 5);
  const step = ticks[1] ?? 0.2;
  return [0, 1, 2, 3, 4].map((index) => Number((index * step).toPrecision(12)));
}

export function valueText({ shrunkenRate, failures }: DrawnItem): string {
  if (shrunkenRate === null) return "not followed";
  return `${threeDigits(shrunkenRate)}, ${failures === 0 ? "no failures" : `${whole(failures)} failed`}`;
}

/** Stretches from start to end in proportion to lengths. */
function spread(parts: readonly number[], from: number, to: number): (readonly [number, number])[] {
  const total = parts.reduce((sum, part) => sum + part, 0) || 1;
  let at = from;
  return parts.map((part) => {
    const start = at;
    at += ((to - from) * part) / total;
    return [start, at] as const;
  });
}

/** Middles of labels as near to the wanted ones as keeps them apart and inside. */
function middlesApart(
  wanted: readonly { readonly middle: number; readonly half: number }[],
  left: number,
  right: number,
): number[] {
  const middles = wanted.map(({ middle }) => middle);
  let edge = left;
  wanted.forEach(({ half }, index) => {
    middles[index] = Math.max(middles[index] ?? 0, edge + half);
    edge = (middles[index] ?? 0) + half + 14;
  });
  edge = right;
  for (let index = wanted.length - 1; index >= 0; index--) {
    const half = wanted[index]?.half ?? 0;
    middles[index] = Math.min(middles[index] ?? 0, edge - half);
    edge = (middles[index] ?? 0) - half - 14;
  }
  return middles;
}
