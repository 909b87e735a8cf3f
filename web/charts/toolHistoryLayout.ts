import { scaleLinear } from "d3-scale";
import type { HistoryEvent, Life, ToolHistoryResult } from "../../analysis/index.ts";
import { clearTicks, type Plot, type Tick, tickRoom } from "./kit/axes.tsx";
import { type ChartSize, gutter, header } from "./kit/Frame.tsx";
import { textSize } from "./kit/Text.tsx";
import { hourTicks } from "./kit/ticks.ts";
import { textWidth } from "./text/measure.ts";
import { highAge, whole } from "./text/numbers.ts";

/** One restoration and what followed: age against date. `life` is null while nothing is known of it yet. */
export interface Tooth {
  readonly since: string;
  readonly life: Life | null;
  /** Day number and age in hours, both ascending. */
  readonly points: readonly (readonly [day: number, age: number])[];
}

/** Modes of one item that the same redresses restored. */
export interface Lane {
  readonly item: string;
  readonly modes: readonly string[];
  readonly top: number;
  readonly bottom: number;
  readonly y: (age: number) => number;
  readonly ticks: readonly Tick[];
  readonly teeth: readonly Tooth[];
  readonly failed: readonly Life[];
  readonly now: { readonly age: number; readonly state: "running" | "failed" | "not known" } | null;
}

export interface ToolHistoryLayout {
  readonly height: number;
  readonly plot: Plot;
  /** Day number (days since 1970-01-01) to px. */
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly xTicks: readonly Tick[];
  readonly firstDay: number;
  readonly lastDay: number;
  /** Foot of the bars of runs, and the height of an hour. */
  readonly runsAt: number;
  readonly runHour: number;
  readonly runTicks: readonly Tick[];
  readonly teardownsAt: number;
  readonly redressesAt: number;
  readonly lanes: readonly Lane[];
  readonly key: readonly {
    readonly mark: HistoryMark;
    readonly text: string;
    readonly x: number;
    readonly y: number;
  }[];
}

export type HistoryMark = "run" | "teardown" | "redress" | "exact" | "interval" | "age";

const keyTexts: readonly (readonly [HistoryMark, string])[] = [
  ["run", "run, as tall as its hours"],
  ["teardown", "teardown"],
  ["redress", "redress"],
  ["age", "age of the item, 0 when restored"],
  ["exact", "failed"],
  ["interval", "failed between two inspections"],
];

/** Days since 1970-01-01 of a date `YYYY-MM-DD`. */
export const dayOf = (date: string): number => Date.parse(`${date}T00:00:00Z`) / 86_400_000;

export function toolHistoryLayout(result: ToolHistoryResult, { width, finding }: ChartSize): ToolHistoryLayout {
  const dates = [
    ...result.events.flatMap(datesOf),
    ...result.lives.map((life) => life.sinceOn),
    result.provenance.cutoff,
  ];
  const days = dates.map(dayOf).filter(Number.isFinite);
  const [firstDay, lastDay] = [Math.min(...days), Math.max(...days, Math.min(...days) + 30)];
  const lanes = lanesOf(result);
  const highest = Math.max(
    100,
    ...lanes.flatMap((lane) => lane.teeth.flatMap((tooth) => tooth.points.map(([, age]) => age))),
  );
  const left = gutter + tickRoom([whole(highest)]) + 2;
  const right = width - gutter - 12;
  const x = scaleLinear([firstDay, lastDay], [left, right]);
  const keyTop = header(finding, width).height + 12;
  let keyX = gutter;
  let keyY = keyTop;
  const key = keyTexts.map(([mark, text]) => {
    const needs = 30 + textWidth(text, textSize) + 16;
    if (keyX > gutter && keyX + needs - 16 > width - gutter) {
      keyX = gutter;
      keyY += 19;
    }
    const entry = { mark, text, x: keyX, y: keyY };
    keyX += needs;
    return entry;
  });
  const runsAt = keyY + 62;
  const longest = Math.max(
    50,
    ...result.events.flatMap(({ event }) => (event.kind === "run" ? [event.run.hours ?? 0] : [])),
  );
  const runHour = 38 / longest;
  const runTicks = hourTicks(longest, 2).map((age) => ({ at: runsAt - age * runHour, text: whole(age) }));
  const teardownsAt = runsAt + 18;
  const redressesAt = teardownsAt + 20;
  let y = redressesAt + 18;
  const placed = lanes.map((lane): Lane => {
    const top = y + 22;
    const bottom = top + 28;
    y = bottom + 4;
    const most = Math.max(50, ...lane.teeth.flatMap((tooth) => tooth.points.map(([, age]) => age)));
    const scale = scaleLinear([0, most], [bottom, top]);
    const ticks = [0, hourTicks(most, 1).at(-1) ?? 0]
      .filter((age, index) => index === 0 || age > 0)
      .map((age) => ({ at: scale(age), text: whole(age) }));
    return { ...lane, top, bottom, y: (age) => scale(age), ticks };
  });
  return {
    height: y + 34,
    plot: { left, right, top: runsAt - 40, bottom: y + 2 },
    x,
    xTicks: dateTicks(firstDay, lastDay, x, right - left),
    firstDay,
    lastDay,
    runsAt,
    runHour,
    runTicks,
    teardownsAt,
    redressesAt,
    lanes: placed,
    key,
  };
}

function datesOf({ on, event }: HistoryEvent): string[] {
  return event.kind === "run" ? [on, event.run.out_on] : [on];
}

type BareLane = Omit<Lane, "top" | "bottom" | "y" | "ticks">;

function lanesOf(result: ToolHistoryResult): BareLane[] {
  const order = new Map(result.items.map((row, index) => [row.item, row.position ?? 1000 + index]));
  const pairs = new Map<string, { item: string; mode: string }>();
  for (const { item, mode } of [...result.ages, ...result.lives])
    pairs.set(JSON.stringify([item, mode]), { item, mode });
  const lanes = new Map<string, BareLane>();
  for (const { item, mode } of pairs.values()) {
    const lives = result.lives.filter((life) => life.item === item && life.mode === mode);
    const teeth = teethOf(result, item, mode, lives);
    const key = JSON.stringify([item, teeth.map((tooth) => tooth.since)]);
    const known = lanes.get(key);
    const age = result.ages.find((one) => one.item === item && one.mode === mode);
    const failed = lives.filter((life) => life.kind !== "right");
    const now = age ? { age: highAge(age.age), state: age.state } : null;
    lanes.set(key, {
      item,
      modes: [...(known?.modes ?? []), mode],
      teeth: known?.teeth ?? teeth,
      failed: [...(known?.failed ?? []), ...failed],
      now: known?.now?.state === "failed" ? known.now : (now ?? known?.now ?? null),
    });
  }
  return [...lanes.values()].sort((a, b) => (order.get(a.item) ?? 9999) - (order.get(b.item) ?? 9999));
}

/** Restorations in order of date: those with a life, and those of which nothing is known yet. */
function teethOf(result: ToolHistoryResult, item: string, mode: string, lives: readonly Life[]): Tooth[] {
  const starts = new Map<string, { on: string; life: Life | null }>();
  const madeUp = result.ages.find((age) => age.item === item && age.mode === mode)?.restoredBy === "made up";
  for (const { event, on } of result.events) {
    if (event.kind !== "redress") continue;
    const renewed = event.fitted.some((fitted) => fitted.item === item && fitted.renewed);
    if (!renewed && !(madeUp && event.joints.some((joint) => joint.joint === item))) continue;
    starts.set(event.redress.redress, { on: event.redress.done_on || on, life: null });
  }
  for (const life of lives) starts.set(life.since, { on: life.sinceOn, life });
  const present = result.ages.find((age) => age.item === item && age.mode === mode);
  if (present && !starts.has(present.since)) starts.set(present.since, { on: present.sinceOn, life: null });
  const ordered = [...starts].sort(([, a], [, b]) => (a.on < b.on ? -1 : 1));
  return ordered.map(([since, { on, life }], index): Tooth => {
    const until = ordered[index + 1]?.[1].on ?? null;
    const runs =
      life && life.runs.length > 0
        ? life.runs.map((run) => ({
            out: run.outOn,
            back: run.inOn ?? result.provenance.cutoff,
            from: highAge(run.from),
            to: highAge(run.to),
          }))
        : runsBetween(result, on, until);
    const first = life?.entry ?? runs[0]?.from ?? 0;
    const end = until ?? result.provenance.cutoff;
    const points = [
      [dayOf(on), first] as const,
      ...runs.flatMap((run) => [[dayOf(run.out), run.from] as const, [dayOf(run.back), run.to] as const]),
      [dayOf(end), runs.at(-1)?.to ?? first] as const,
    ];
    return { since, life, points: points.filter(([day]) => day <= dayOf(end)) };
  });
}

/** Runs between two redresses with ages counted from the first, by the tool's own hours. */
function runsBetween(
  result: ToolHistoryResult,
  from: string,
  until: string | null,
): { out: string; back: string; from: number; to: number }[] {
  const before = result.events.filter(({ on, event }) => on <= from && event.kind === "redress").at(-1);
  const base = before ? highAge(before.toolHours) : 0;
  let last = 0;
  return result.events.flatMap(({ on, event, toolHours }) => {
    if (
      event.kind !== "run" ||
      !event.counted ||
      event.run.out_on < from ||
      (until !== null && event.run.out_on >= until)
    )
      return [];
    const run = {
      out: event.run.out_on,
      back: event.run.in_on ?? on,
      from: last,
      to: Math.max(last, highAge(toolHours) - base),
    };
    last = run.to;
    return [run];
  });
}

const monthNames = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** Firsts of months: every month, quarter, half-year or year, as the width allows. */
function dateTicks(first: number, last: number, x: (day: number) => number, width: number): Tick[] {
  const months = (last - first) / 30.4;
  const step = [1, 3, 6, 12, 24, 60].find((candidate) => (months / candidate) * 62 <= width) ?? 120;
  const start = new Date(first * 86_400_000);
  const ticks: Tick[] = [];
  for (let month = Math.ceil(start.getUTCMonth() / step) * step; ; month += step) {
    const day = Date.UTC(start.getUTCFullYear(), month, 1) / 86_400_000;
    if (day > last) break;
    if (day < first) continue;
    const date = new Date(day * 86_400_000);
    const name = step >= 12 ? "" : `${monthNames[date.getUTCMonth()] ?? ""} `;
    ticks.push({ at: x(day), text: `${name}${date.getUTCFullYear()}` });
  }
  return clearTicks(ticks);
}
