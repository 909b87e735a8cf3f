import {
  formatConfidence,
  formatEstimate,
  formatHours,
  formatNumber,
  type RedressIntervalResult,
  readLine,
} from "../../analysis/index.ts";
import { type IntervalLayout, type IntervalPicture, lineOf } from "./intervalLayout.ts";
import { percent, threeDigits } from "./text/numbers.ts";

/** What is marked on the picture of an interval, with its words. All positions in px. */
export interface IntervalMark {
  readonly name: string;
  readonly label: string;
  /** Written at the mark. */
  readonly lines: readonly string[];
  readonly tone: "ink" | "accent" | "slate" | "muted";
  readonly shape:
    | { readonly kind: "region"; readonly from: number; readonly to: number }
    | { readonly kind: "level"; readonly y: number }
    | { readonly kind: "bar"; readonly from: number; readonly to: number; readonly at: number; readonly y: number }
    | { readonly kind: "upright"; readonly x: number; readonly y: number };
}

export function intervalMarks(
  result: RedressIntervalResult,
  picture: IntervalPicture,
  layout: IntervalLayout,
): IntervalMark[] {
  return picture === "cost" ? costMarks(result, layout) : chanceMarks(result, picture, layout);
}

function costMarks(result: RedressIntervalResult, { x, y, plot }: IntervalLayout): IntervalMark[] {
  const { recommended, optimum, runToFailure, today, decided, curves, currency } = result;
  const unit = `${currency ?? "planned redresses"} per 1,000 h`;
  const inside = (age: number): number => Math.min(plot.right, Math.max(plot.left, x(age)));
  const marks: IntervalMark[] = [];
  if (recommended !== null) {
    marks.push({
      name: "flat",
      label: `between ${formatHours(recommended.flatFrom)} and ${formatHours(recommended.flatTo)} the cost is within 5 % of the least`,
      lines: ["within 5 % of the least"],
      tone: "slate",
      shape: { kind: "region", from: inside(recommended.flatFrom), to: inside(recommended.flatTo) },
    });
  }
  if (runToFailure.value !== null && y(runToFailure.value) >= plot.top) {
    marks.push({
      name: "no redress",
      label: `without planned redresses ${formatEstimate(runToFailure)}, ${unit}`,
      lines: ["without planned redresses"],
      tone: "ink",
      shape: { kind: "level", y: y(runToFailure.value) },
    });
  }
  if (optimum.value !== null && x(optimum.value) <= plot.right) {
    const at = readLine(curves.age, curves.costRate, optimum.value);
    marks.push({
      name: "optimum",
      label: `least cost at ${formatEstimate(optimum)}`,
      lines: [`least at ${formatEstimate(optimum)}`],
      tone: "slate",
      shape: {
        kind: "bar",
        from: inside(optimum.lower ?? 0),
        to: inside(optimum.upper ?? Number.POSITIVE_INFINITY),
        at: x(optimum.value),
        y: y(at?.value ?? 0),
      },
    });
  }
  if (today !== null && x(today.middle) <= plot.right) {
    marks.push({
      name: "today",
      label: `today: half of ${threeDigits(today.planned)} planned redresses between ${formatHours(today.quarter)} and ${formatHours(today.threeQuarters)}, the middle at ${formatHours(today.middle)}`,
      lines: [`today, half between ${threeDigits(today.quarter)} and ${formatHours(today.threeQuarters)}`],
      tone: "ink",
      shape: {
        kind: "bar",
        from: inside(today.quarter),
        to: inside(today.threeQuarters),
        at: x(today.middle),
        y: plot.bottom - 12,
      },
    });
  }
  if (decided?.intervalH != null && x(decided.intervalH) <= plot.right) {
    marks.push({
      name: "decided",
      label: `decided: redress at ${formatHours(decided.intervalH)}`,
      lines: [`decided ${formatHours(decided.intervalH)}`],
      tone: "ink",
      shape: { kind: "upright", x: x(decided.intervalH), y: plot.top + 40 },
    });
  }
  return marks;
}

function chanceMarks(
  result: RedressIntervalResult,
  picture: "before" | "run",
  { x, y, plot }: IntervalLayout,
): IntervalMark[] {
  const { risk } = result;
  const limit = picture === "before" ? risk.beforeRedress : risk.nextRun;
  const marks: IntervalMark[] = [];
  if (y(risk.allowedChance) >= plot.top) {
    marks.push({
      name: "allowed",
      label: `allowed chance ${percent(risk.allowedChance)}`,
      lines: [`allowed ${percent(risk.allowedChance)}`],
      tone: "accent",
      shape: { kind: "level", y: y(risk.allowedChance) },
    });
  }
  if (limit.age !== null && !limit.beyondGrid && x(limit.age) <= plot.right) {
    marks.push({
      name: "limit",
      label: `limit ${formatHours(Math.floor(limit.age))}: the upper bound of the chance (${formatConfidence(risk.oneSided)} one-sided) reaches ${percent(risk.allowedChance)}`,
      lines: [`limit ${formatHours(Math.floor(limit.age))}`],
      tone: "slate",
      shape: { kind: "upright", x: x(limit.age), y: Math.max(plot.top, y(risk.allowedChance)) },
    });
  }
  return marks;
}

/** What the line says at an age, in words. */
export function sayAt(result: RedressIntervalResult, picture: IntervalPicture, age: number): string {
  const at = readLine(result.curves.age, lineOf(result, picture), age);
  const hours = formatHours(Math.round(age));
  if (at === null) return `${hours}: outside the picture`;
  const level = formatConfidence(result.definition.confidence);
  if (picture === "cost")
    return `${hours}: ${formatNumber(at.value)} ${result.currency ?? "planned redresses"} per 1,000 h (${formatNumber(at.lower)}–${formatNumber(at.upper)}, ${level})`;
  return `${hours}: ${percent(at.value)} (${formatNumber(100 * at.lower)}–${formatNumber(100 * at.upper)}, ${level})`;
}
