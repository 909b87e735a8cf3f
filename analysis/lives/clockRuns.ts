import { keyOf, type Records, type Row, type RowRef } from "../records/descriptor.ts";
import { type Span, span, toAge } from "./age.ts";
import { dayOf } from "./calendar.ts";
import type { HoursAccount, LivesDefinition, LivesNotice, UnusedHoursReason } from "./types.ts";

/** A run that counts: its hours on the study's clock as a span, [0, 24 h a day] where they were not written down. */
export interface ClockRun {
  readonly run: Row<"runs">;
  readonly row: RowRef;
  readonly outDay: number;
  readonly inDay: number;
  readonly hours: Span;
}

export interface ClockRuns {
  readonly bySerial: ReadonlyMap<string, readonly ClockRun[]>;
  /** Runs still out at the cut-off, by serial. */
  readonly stillOut: ReadonlyMap<string, readonly Row<"runs">[]>;
  readonly notices: readonly LivesNotice[];
  readonly account: UnusedHours;
}

/** Collects every run's hours as used or, by reason, not used. */
export class UnusedHours {
  private total = span(0);
  private readonly reasons = new Map<UnusedHoursReason, { hours: Span; runs: number }>();

  count(hours: Span): void {
    this.total = span(this.total.low + hours.low, this.total.high + hours.high);
  }

  refuse(reason: UnusedHoursReason, hours: Span): void {
    const sum = this.reasons.get(reason) ?? { hours: span(0), runs: 0 };
    this.reasons.set(reason, {
      hours: span(sum.hours.low + hours.low, sum.hours.high + hours.high),
      runs: sum.runs + 1,
    });
  }

  account(): HoursAccount {
    let { low, high } = this.total;
    for (const { hours } of this.reasons.values()) {
      low -= hours.low;
      high -= hours.high;
    }
    return {
      total: toAge(this.total),
      used: toAge(span(low, high)),
      unused: [...this.reasons]
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([reason, { hours, runs }]) => ({ reason, hours: toAge(hours), runs })),
    };
  }
}

/**
 * The runs that count by the cut-off, each once, in order of time.
 *
 * Conventions  A run counts from the day it came in. Missing hours, and 0 hours of a run that was out over two days or
 *              more, are [0, 24 h x (in - out + 1)]. Hours of another kind than the clock's are missing on this clock.
 *              Two runs of one serial are one run where run number, or dates and hours, or well, hours and overlapping
 *              dates, are the same. Overlapping runs that differ are both counted, with a notice.
 */
export function clockRuns(records: Records, definition: LivesDefinition, cutoffDay: number): ClockRuns {
  const rows = [...(records.runs ?? [])].sort(
    (a, b) =>
      compare(a.serial, b.serial) ||
      compare(a.out_on, b.out_on) ||
      compare(a.in_on ?? "9", b.in_on ?? "9") ||
      compareNumbered(a.run, b.run),
  );
  const kind = definition.hoursKind ?? usualHoursKind(rows);
  const bySerial = new Map<string, ClockRun[]>();
  const stillOut = new Map<string, Row<"runs">[]>();
  const notices: LivesNotice[] = [];
  const account = new UnusedHours();
  const seenKeys = new Set<string>();
  /** Runs of a serial that a later one can still be the same as or overlap: rows come in order of the day out. */
  const reaching = new Map<string, readonly ClockRun[]>();

  for (const run of rows) {
    const row: RowRef = { table: "runs", key: keyOf("runs", run) };
    const outDay = dayOf(run.out_on);
    const inDay = run.in_on == null ? null : dayOf(run.in_on);
    if (inDay === null || inDay > cutoffDay || outDay > cutoffDay) {
      const hours = span(run.hours ?? 0);
      account.count(hours);
      account.refuse("after the cut-off", hours);
      if (outDay <= cutoffDay) push(stillOut, run.serial, run);
      continue;
    }
    const { hours, missing, kindDiffers } = hoursOnClock(run, kind);
    account.count(hours);

    const others = (reaching.get(run.serial) ?? []).filter((each) => each.inDay > outDay || each.outDay === outDay);
    const key = `${row.key} ${run.serial}`;
    const twin = others.find((other) => sameRun(other, run, outDay));
    if (seenKeys.has(key) || twin) {
      account.refuse("duplicate", hours);
      notices.push({
        code: "run-duplicate",
        facts: { run: run.run, serial: run.serial, same_as: twin?.run.run ?? run.run },
        rows: [row],
      });
      continue;
    }
    seenKeys.add(key);
    if (missing) {
      notices.push({
        code: "run-hours-missing",
        facts: {
          run: run.run,
          serial: run.serial,
          high: hours.high,
          written: run.hours ?? null,
          hours_kind: kindDiffers ? (run.hours_kind ?? null) : null,
        },
        rows: [row],
      });
    } else if (hours.low > 24 * (inDay - outDay + 1)) {
      notices.push({
        code: "run-hours-exceed-dates",
        facts: { run: run.run, serial: run.serial, hours: hours.low, days: inDay - outDay + 1 },
        rows: [row],
      });
    }
    const before = others.find((other) => outDay < other.inDay && other.outDay < inDay);
    if (before) {
      notices.push({
        code: "run-overlaps",
        facts: { run: run.run, serial: run.serial, other: before.run.run },
        rows: [before.row, row],
      });
    }
    const counted: ClockRun = { run, row, outDay, inDay, hours };
    push(bySerial, run.serial, counted);
    reaching.set(run.serial, [...others, counted]);
  }
  return { bySerial, stillOut, notices, account };
}

/** Hours of a run that came in, on a clock of one kind; [0, 24 h a day] where they are not written down on that clock. */
export function hoursOnClock(
  run: Row<"runs">,
  kind: Row<"runs">["hours_kind"] | null,
): { hours: Span; missing: boolean; kindDiffers: boolean } {
  const days = run.in_on == null ? 1 : dayOf(run.in_on) - dayOf(run.out_on) + 1;
  const kindDiffers = run.hours_kind != null && kind != null && run.hours_kind !== kind;
  const missing = run.hours == null || kindDiffers || (run.hours === 0 && days >= 3);
  return { hours: missing ? span(0, 24 * Math.max(1, days)) : span(run.hours ?? 0), missing, kindDiffers };
}

function sameRun(other: ClockRun, run: Row<"runs">, outDay: number): boolean {
  const [a, b] = [other.run, run];
  if (a.hours == null || a.hours === 0 || a.hours !== b.hours) return false;
  if (a.out_on === b.out_on && a.in_on === b.in_on) return true;
  return a.well != null && a.well === b.well && outDay < other.inDay;
}

/** The kind of hours most runs are written in; null where none is written. */
export function usualHoursKind(runs: readonly Row<"runs">[]): (Row<"runs">["hours_kind"] & string) | null {
  const counts = new Map<NonNullable<Row<"runs">["hours_kind"]>, number>();
  for (const { hours_kind: kind } of runs) if (kind != null) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || compare(a[0], b[0]))[0]?.[0] ?? null;
}

export const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Order of record numbers as a shop counts them: "R-9" before "R-10". Decides only between rows of one date. */
export function compareNumbered(a: string, b: string): number {
  const [left, right] = [a.match(/\d+|\D+/g) ?? [], b.match(/\d+|\D+/g) ?? []];
  for (let index = 0; index < Math.min(left.length, right.length); index++) {
    const [x, y] = [left[index]!, right[index]!];
    if (x === y) continue;
    const [m, n] = [Number(x), Number(y)];
    return Number.isNaN(m) || Number.isNaN(n) || m === n ? compare(x, y) : m - n;
  }
  return left.length - right.length;
}

export function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
