import type { Row } from "../../descriptor.ts";
import type { BenchEvent, Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import type { AuditRow } from "../types.ts";

interface Holder {
  readonly serial: string;
  readonly fitted: Row<"fitted_items">;
}

/**
 * One item serial in two tools: fitted here while the other tool, not taken apart since, still holds it. The age goes
 * with the serial, so one of the two tools gets the hours of the other.
 *
 * Source       Trade practice: same serial in two places; common practice, no source.
 * Cannot tell  Which of the two is misread. A tool taken apart gives its items free, whatever is written later.
 */
export const itemInTwoTools: Rule = ({ benchEvents, fittedOf, strays }) => {
  const rows: AuditRow[] = [];
  const holders = new Map<string, Holder>();
  const holds = new Map<string, string[]>();
  const release = (serial: string) => {
    for (const name of holds.get(serial) ?? []) if (holders.get(name)?.serial === serial) holders.delete(name);
    holds.delete(serial);
  };
  for (const events of sameDay(benchEvents)) {
    // Whatever comes out on a day is free for every tool built that day.
    for (const event of events) if (event.at === "redress" || !strays.has(event.look.teardown)) release(event.serial);
    for (const event of events) {
      if (event.at !== "redress") continue;
      for (const row of fittedOf.get(event.redress.redress) ?? []) {
        if (row.item_serial == null) continue;
        const name = JSON.stringify([row.item, row.item_serial]);
        const holder = holders.get(name);
        if (holder !== undefined && holder.serial !== event.serial) {
          rows.push(
            doubt("serial in two places", "fitted_items", row, "item_serial", {
              others: [refOf("fitted_items", holder.fitted)],
              facts: {
                what: "item",
                item: row.item,
                item_serial: row.item_serial,
                serial: event.serial,
                redress: row.redress,
                other: holder.serial,
              },
            }),
          );
        }
        holders.set(name, { serial: event.serial, fitted: row });
        holds.set(event.serial, [...(holds.get(event.serial) ?? []), name]);
      }
    }
  }
  return rows;
};

function sameDay(events: readonly BenchEvent[]): readonly (readonly BenchEvent[])[] {
  const days: BenchEvent[][] = [];
  for (const event of events) {
    const last = days.at(-1);
    if (last?.[0]?.day === event.day) last.push(event);
    else days.push([event]);
  }
  return days;
}
