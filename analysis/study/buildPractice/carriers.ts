import type { Records } from "../../records/descriptor.ts";

/** A serial that has an item of a lot in it now. */
export interface Carrier {
  readonly serial: string;
  readonly redress: string;
  readonly status: string | null;
}

/**
 * Which serials still carry which lot: the lot that the last redress on record fitted, or left in place. Lost and scrapped
 * tools carry nothing any more. By `item lot`; see `lotName`.
 */
export function carriersOf(records: Records, cutoff: string): ReadonlyMap<string, readonly Carrier[]> {
  const statusOf = new Map((records.tools ?? []).map(({ serial, status }) => [serial, status ?? null]));
  const serialOf = new Map(
    (records.redresses ?? []).map(({ redress, serial, done_on }) => [redress, { serial, done_on }]),
  );
  const last = new Map<string, { lot: string | null; redress: string; serial: string; item: string; doneOn: string }>();
  const fitted = (records.fitted_items ?? []).flatMap((row) => {
    const redress = serialOf.get(row.redress);
    return redress && redress.done_on <= cutoff ? [{ row, ...redress }] : [];
  });
  fitted.sort((a, b) =>
    a.done_on < b.done_on ? -1 : a.done_on > b.done_on ? 1 : a.row.redress < b.row.redress ? -1 : 1,
  );
  for (const { row, serial, done_on } of fitted) {
    const key = JSON.stringify([serial, row.item]);
    const before = last.get(key);
    const lot = row.renewed ? (row.lot ?? null) : (row.lot ?? before?.lot ?? null);
    const redress = row.renewed || before === undefined ? row.redress : before.redress;
    last.set(key, { lot, redress, serial, item: row.item, doneOn: done_on });
  }
  const carriers = new Map<string, Carrier[]>();
  for (const { lot, redress, serial, item } of last.values()) {
    const status = statusOf.get(serial) ?? null;
    if (lot === null || status === "lost in hole" || status === "scrapped") continue;
    const name = lotName(item, lot);
    carriers.set(name, [...(carriers.get(name) ?? []), { serial, redress, status }]);
  }
  return carriers;
}

export const lotName = (item: string, lot: string): string => JSON.stringify([item, lot]);
