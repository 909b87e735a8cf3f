import { keyOf, type Records, type Row, type RowRef } from "../records/descriptor.ts";
import { dayOf } from "./calendar.ts";
import { type ClockRuns, compare, compareNumbered, push } from "./clockRuns.ts";
import type { LivesNotice } from "./types.ts";

/** One item in one tool from one redress to the next. Order on one date: run in, teardown, redress, run out. */
export interface Stint {
  readonly serial: string;
  readonly toolType: string;
  readonly sizeIn: number | null;
  readonly item: string;
  readonly redress: Row<"redresses">;
  readonly fromDay: number;
  /** Day of the next redress of the tool, or on which the item was fitted into another tool; Infinity where there is none. */
  toDay: number;
  readonly fitted: Row<"fitted_items"> | null;
  readonly madeUp: Row<"joints"> | null;
  readonly rows: readonly RowRef[];
}

/** One physical item through its stints, in order. It starts renewed, or in mid-life, or unknown. */
export interface Track {
  readonly stints: Stint[];
  readonly start: "renewed" | "mid-life" | "not written down";
  /** Hours the item already had; null where nobody knows. */
  readonly ageAtStart: number | null;
  /** A new item took its place at the redress that ended it. */
  replacedByNew: boolean;
  /** It took the place of another item, so that a look before it saw that one. */
  readonly tookPlaceOf: boolean;
}

export interface Tracks {
  readonly tracks: readonly Track[];
  readonly redressesBySerial: ReadonlyMap<string, readonly Row<"redresses">[]>;
  readonly notices: readonly LivesNotice[];
}

/**
 * Follows each item through builds and redresses, across tools where its item serial says so.
 *
 * Conventions  `renewed` starts a new item. Carried over continues the one in place; with another item serial it
 *              continues that item wherever it was before, or starts in mid-life at `age_at_fitting_h`. A redress that
 *              writes nothing about a listed item leaves it "not written down" until it is renewed: never guessed.
 */
export function followItems(records: Records, clock: ClockRuns, cutoffDay: number): Tracks {
  const notices: LivesNotice[] = [];
  const itemsByType = new Map<string, Row<"tool_items">[]>();
  for (const item of records.tool_items ?? []) push(itemsByType, item.tool_type, item);
  const fittedAt = indexBy(records.fitted_items ?? [], (row) => `${row.redress}\u0000${row.item}`);
  const madeUpAt = indexBy(records.joints ?? [], (row) => `${row.redress}\u0000${row.joint}`);
  const redressesBySerial = new Map<string, Row<"redresses">[]>();
  for (const redress of records.redresses ?? []) {
    if (dayOf(redress.done_on) <= cutoffDay) push(redressesBySerial, redress.serial, redress);
  }
  const stints: Stint[] = [];
  const toolOf = indexBy(records.tools ?? [], (row) => row.serial);
  for (const [serial, redresses] of redressesBySerial) {
    redresses.sort((a, b) => compare(a.done_on, b.done_on) || compareNumbered(a.redress, b.redress));
    const tool = toolOf.get(serial);
    if (!tool) {
      notices.push({ code: "tool-not-listed", facts: { serial }, rows: redresses.map(redressRef) });
      continue;
    }
    const items = itemsByType.get(tool.tool_type) ?? [];
    redresses.forEach((redress, index) => {
      const next = redresses[index + 1];
      for (const { item } of items) {
        const fitted = fittedAt.get(`${redress.redress}\u0000${item}`) ?? null;
        const madeUp = madeUpAt.get(`${redress.redress}\u0000${item}`) ?? null;
        stints.push({
          serial,
          toolType: tool.tool_type,
          sizeIn: tool.size_in ?? null,
          item,
          redress,
          fromDay: dayOf(redress.done_on),
          toDay: next ? dayOf(next.done_on) : Infinity,
          fitted,
          madeUp,
          rows: [
            redressRef(redress),
            ...(fitted ? [{ table: "fitted_items" as const, key: keyOf("fitted_items", fitted) }] : []),
            ...(madeUp ? [{ table: "joints" as const, key: keyOf("joints", madeUp) }] : []),
          ],
        });
      }
    });
  }
  stints.sort(
    (a, b) => a.fromDay - b.fromDay || compareNumbered(a.redress.redress, b.redress.redress) || compare(a.item, b.item),
  );
  return { tracks: joinStints(stints, toolOf, clock, notices), redressesBySerial, notices };
}

function joinStints(
  stints: readonly Stint[],
  toolOf: ReadonlyMap<string, Row<"tools">>,
  clock: ClockRuns,
  notices: LivesNotice[],
): Track[] {
  const tracks: Track[] = [];
  const inPlace = new Map<string, Track>();
  const byItemSerial = new Map<string, Track>();

  for (const stint of stints) {
    const place = `${stint.serial}\u0000${stint.item}`;
    const current = inPlace.get(place);
    const { fitted } = stint;
    const itemSerial = fitted?.item_serial ?? null;
    const name = itemSerial === null ? null : `${stint.item}\u0000${itemSerial}`;
    let track: Track | undefined;
    if (fitted && !fitted.renewed) {
      const elsewhere = name === null ? undefined : byItemSerial.get(name);
      const other = current ? itemSerialOf(current) : null;
      track = elsewhere ?? (itemSerial === null || other === null || other === itemSerial ? current : undefined);
    }
    if (track) {
      const last = track.stints.at(-1);
      if (last && last.serial !== stint.serial) {
        inPlace.delete(`${last.serial}\u0000${last.item}`);
        takeOut(last, stint, clock, notices);
      }
      track.stints.push(stint);
    } else {
      track = {
        stints: [stint],
        start: !fitted ? "not written down" : fitted.renewed ? "renewed" : "mid-life",
        replacedByNew: false,
        tookPlaceOf: current !== undefined,
        ageAtStart: fitted?.renewed
          ? (fitted.age_at_fitting_h ?? 0)
          : (fitted?.age_at_fitting_h ?? ageOfNewTool(stint, current, toolOf, clock)),
      };
      tracks.push(track);
      if (current && fitted?.renewed && current.stints.at(-1)?.serial === stint.serial) current.replacedByNew = true;
    }
    inPlace.set(place, track);
    if (name !== null) byItemSerial.set(name, track);
  }
  return tracks;
}

/** An item fitted into another tool has left the one it was in; a run of that tool later on contradicts it, and is told. */
function takeOut(last: Stint, next: Stint, clock: ClockRuns, notices: LivesNotice[]): void {
  const before = last.toDay;
  last.toDay = Math.min(before, next.fromDay);
  const later = (clock.bySerial.get(last.serial) ?? []).filter(({ outDay }) => outDay >= last.toDay && outDay < before);
  if (later.length === 0) return;
  notices.push({
    code: "item-in-two-tools",
    facts: {
      item: last.item,
      item_serial: next.fitted?.item_serial ?? null,
      serial: last.serial,
      other: next.serial,
      on: next.redress.done_on,
    },
    rows: [...next.rows, ...later.map(({ row }) => row)],
  });
}

/** An item carried over at the first redress of a tool that came with 0 hours and has not run since has 0 hours. */
function ageOfNewTool(
  stint: Stint,
  current: Track | undefined,
  toolOf: ReadonlyMap<string, Row<"tools">>,
  clock: ClockRuns,
): number | null {
  const itemFromElsewhere = stint.fitted?.item_serial != null;
  const ranBefore = (clock.bySerial.get(stint.serial) ?? []).some(
    ({ outDay, inDay }) => outDay < stint.fromDay && inDay <= stint.fromDay,
  );
  return !current && !itemFromElsewhere && !ranBefore && toolOf.get(stint.serial)?.hours_at_entry === 0 ? 0 : null;
}

function itemSerialOf(track: Track): string | null {
  for (let index = track.stints.length - 1; index >= 0; index--) {
    const itemSerial = track.stints[index]?.fitted?.item_serial;
    if (itemSerial != null) return itemSerial;
  }
  return null;
}

const redressRef = (redress: Row<"redresses">): RowRef => ({ table: "redresses", key: keyOf("redresses", redress) });

function indexBy<R>(rows: readonly R[], key: (row: R) => string): Map<string, R> {
  const index = new Map<string, R>();
  for (const row of rows) if (!index.has(key(row))) index.set(key(row), row);
  return index;
}
