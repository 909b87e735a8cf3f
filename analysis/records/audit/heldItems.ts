import type { Row } from "../descriptor.ts";
import type { AuditContext } from "./auditContext.ts";
import type { ToolStory } from "./auditShop.ts";
import type { AuditRow } from "./types.ts";

/** One physical item in the place it was last fitted. */
export interface HeldItem {
  readonly serial: string;
  readonly fitted: Row<"fitted_items">;
  /** Hours at fitting, as far as the records show, and hours of the tool by then. */
  readonly hoursAtFitting: number;
  readonly toolHoursAtFitting: number;
  /** Last measurement of each kind. */
  readonly measured: Map<string, Row<"findings">>;
}

interface Watch {
  /** An item carried over, with the hours the records give it by then. */
  readonly onCarriedOver: (held: HeldItem, age: number, row: Row<"fitted_items">) => readonly AuditRow[];
  /** A measurement of an item that was measured before. */
  readonly onMeasured: (held: HeldItem, earlier: Row<"findings">, later: Row<"findings">) => readonly AuditRow[];
}

/** Measurements that only grow while an item is in use. */
const GROWS = /wear|set\b|extru/i;

/**
 * Follows items through looks and redresses, across tools by their item serial, and lets a rule look at each step.
 * Hours not written down count as 0, so an age here is never more than the item has.
 */
export function heldItems(context: AuditContext, watch: Watch): readonly AuditRow[] {
  const rows: AuditRow[] = [];
  const tools = new Map<string, ReadonlyMap<string, HeldItem>>();
  const bySerial = new Map<string, HeldItem>();
  const hours = new Map([...context.stories].map(([serial, story]) => [serial, toolHours(story)]));
  const hoursAt = (serial: string, day: number) => hours.get(serial)?.(day) ?? 0;
  const ageOf = (held: HeldItem, day: number) =>
    held.hoursAtFitting + hoursAt(held.serial, day) - held.toolHoursAtFitting;

  const openedOn = new Map<string, number>();
  for (const event of context.benchEvents) {
    const { serial, day } = event;
    if (event.at === "look" && context.strays.has(event.look.teardown)) continue;
    // Run on without a redress since it was taken apart: what the missing build sheet renewed is not known.
    const opened = openedOn.get(serial) ?? Infinity;
    const ranOn = context.stories.get(serial)?.runs.some(({ outDay }) => outDay >= opened && outDay < day);
    if (ranOn) tools.delete(serial);
    if (event.at === "look") openedOn.set(serial, day);
    else openedOn.delete(serial);
    if (event.at === "look") {
      for (const finding of context.findingsOf.get(event.look.teardown) ?? []) {
        const held = tools.get(serial)?.get(finding.item);
        if (held === undefined || finding.measured == null || !GROWS.test(finding.measured_kind ?? "")) continue;
        const kind = JSON.stringify([finding.measured_kind, finding.measured_unit]);
        const earlier = held.measured.get(kind);
        if (earlier !== undefined && earlier.teardown !== finding.teardown)
          rows.push(...watch.onMeasured(held, earlier, finding));
        held.measured.set(kind, finding);
      }
      continue;
    }
    const before = tools.get(serial);
    // What the redress does not write down is not known any more.
    const now = new Map<string, HeldItem>();
    tools.set(serial, now);
    for (const row of context.fittedOf.get(event.redress.redress) ?? []) {
      const name = row.item_serial == null ? null : JSON.stringify([row.item, row.item_serial]);
      const known = name === null ? before?.get(row.item) : (bySerial.get(name) ?? unnamed(before?.get(row.item)));
      const toolHoursAtFitting = hoursAt(serial, day);
      let hoursAtFitting = row.age_at_fitting_h ?? 0;
      let measured = new Map<string, Row<"findings">>();
      if (!row.renewed && known !== undefined) {
        const age = ageOf(known, day);
        rows.push(...watch.onCarriedOver(known, age, row));
        hoursAtFitting = row.age_at_fitting_h ?? age;
        measured = known.measured;
      }
      const held: HeldItem = { serial, fitted: row, hoursAtFitting, toolHoursAtFitting, measured };
      now.set(row.item, held);
      if (name !== null) bySerial.set(name, held);
    }
  }
  return rows;
}

/** The item in place may be the one now named, if it had no serial written before. */
const unnamed = (held: HeldItem | undefined): HeldItem | undefined =>
  held !== undefined && held.fitted.item_serial == null ? held : undefined;

/** Hours a tool has run by a day, as far as written: a running sum, read by bisection. */
function toolHours({ runs }: ToolStory): (day: number) => number {
  const came = runs
    .flatMap(({ run, inDay }) => (inDay === null ? [] : [{ inDay, hours: run.hours ?? 0 }]))
    .sort((a, b) => a.inDay - b.inDay);
  const sums = [0];
  for (const { hours } of came) sums.push((sums.at(-1) ?? 0) + hours);
  return (day) => {
    let low = 0;
    let high = came.length;
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      if ((came[middle]?.inDay ?? Infinity) <= day) low = middle + 1;
      else high = middle;
    }
    return sums[low] ?? 0;
  };
}
