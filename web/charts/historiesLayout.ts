import { scaleLinear } from "d3-scale";
import type { ItemLifeResult, LifeHistory } from "../../analysis/index.ts";
import { bottomAxisHeight, type Plot, type Tick } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { textSize } from "./kit/Text.tsx";
import { hourTicks } from "./kit/ticks.ts";
import { ageTitle } from "./survivalLayout.ts";
import { textWidth } from "./text/measure.ts";
import { highAge, whole } from "./text/numbers.ts";

/** Which lives of the sorted list to draw: from (first is 0) up to, not including, `to`. */
export interface Page {
  readonly from?: number;
  readonly to?: number;
}

export interface HistoriesLayout {
  readonly height: number;
  readonly plot: Plot;
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly xTitle: string;
  readonly rows: readonly LifeHistory[];
  readonly from: number;
  readonly to: number;
  readonly rowHeight: number;
  /** Middle of row `index` of this page, in px. */
  readonly rowAt: (index: number) => number;
  /** Serials stand beside the rows where there is room for text. */
  readonly serials: boolean;
  readonly keyAt: number;
  readonly key: readonly KeyEntry[];
}

export type KeyMark =
  | "exact"
  | "interval"
  | "left"
  | "right"
  | "look"
  | "spoilt"
  | "entry"
  | "range"
  | "led to"
  | "led to between";
export interface KeyEntry {
  readonly mark: KeyMark;
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

/** Most lives that one page draws; the view pages through the rest. */
export const mostRows = 240;

const keyTexts: readonly (readonly [KeyMark, string])[] = [
  ["exact", "failed at this hour"],
  ["interval", "failed between two inspections"],
  ["left", "found failed at the first inspection"],
  ["right", "still good when last seen"],
  ["look", "inspected"],
  ["spoilt", "inspection spoilt by another mode"],
  ["entry", "followed from here on"],
  ["range", "hours not written down"],
];

export function historiesLayout(
  result: ItemLifeResult,
  { width, height, finding, from = 0, to }: ChartSize & Page,
): HistoriesLayout {
  const end = Math.min(result.histories.length, to ?? from + mostRows);
  const rows = result.histories.slice(from, end);
  const wide = width >= 480;
  const rowHeight =
    height === undefined
      ? rows.length <= 30
        ? 18
        : rows.length <= 60
          ? 12
          : rows.length <= 120
            ? 8
            : 5
      : Math.max(3, (height - header(finding, width).height - 120) / Math.max(1, rows.length));
  const serials = rowHeight >= 14;
  const room = serials ? Math.max(0, ...rows.map((life) => textWidth(life.serial, textSize))) + 10 : 0;
  const left = gutter + room + 6;
  const right = width - gutter - (wide ? 14 : 10);
  const present = [...keyTexts, ...ledToTexts(result)].filter(([mark]) => rows.some((life) => shows(life, mark)));
  const keyTop = header(finding, width).height;
  const { entries, height: keyHeight } = flow(present, width, keyTop + 12);
  const xTitle = ageTitle(result);
  const top = keyTop + keyHeight + 10;
  const bottom = top + rows.length * rowHeight + 8;
  const last = Math.max(1, ...rows.map(lastKnown)) * 1.02;
  const x = scaleLinear([0, last], [left, right]);
  return {
    height: bottom + bottomAxisHeight(xTitle, right - left),
    plot: { left, right, top, bottom },
    x,
    xTicks: hourTicks(last, Math.max(3, (right - left) / 70)).map((age) => ({ at: x(age), text: whole(age) })),
    xTitle,
    rows,
    from,
    to: end,
    rowHeight,
    rowAt: (index) => top + 4 + (index + 0.5) * rowHeight,
    serials,
    keyAt: keyTop,
    key: entries,
  };
}

/** Last age that a row has anything to show at. */
export const lastKnown = (life: LifeHistory): number =>
  Math.max(
    highAge(life.upper ?? life.lower),
    life.entry,
    highAge(life.ledTo?.upper ?? 0),
    ...life.looks.map((look) => highAge(look.age)),
    ...life.runs.map((run) => highAge(run.to)),
  );

function shows(life: LifeHistory, mark: KeyMark): boolean {
  if (mark === "look") return life.looks.some((look) => look.found.startsWith("sound"));
  if (mark === "spoilt") return life.looks.some((look) => look.found === "spoilt");
  if (mark === "entry") return life.entry > 0;
  if (mark === "range")
    return typeof life.lower !== "number" || (life.upper !== null && typeof life.upper !== "number");
  if (mark === "led to") return life.ledTo?.kind === "exact";
  if (mark === "led to between") return life.ledTo !== undefined && life.ledTo.kind !== "exact";
  return life.kind === mark;
}

/** The failure that a defect led to goes by its own name. */
const ledToTexts = ({ linked }: ItemLifeResult): readonly (readonly [KeyMark, string])[] =>
  linked === null
    ? []
    : [
        ["led to", `${linked.failure} at this hour`],
        ["led to between", `${linked.failure} between two inspections`],
      ];

function flow(
  entries: readonly (readonly [KeyMark, string])[],
  width: number,
  top: number,
): { entries: KeyEntry[]; height: number } {
  let x = gutter;
  let y = top;
  const placed = entries.map(([mark, text]): KeyEntry => {
    const needs = 30 + textWidth(text, textSize) + 16;
    if (x > gutter && x + needs - 16 > width - gutter) {
      x = gutter;
      y += 19;
    }
    const entry = { mark, text, x, y };
    x += needs;
    return entry;
  });
  return { entries: placed, height: placed.length === 0 ? 0 : y - top + 18 };
}
