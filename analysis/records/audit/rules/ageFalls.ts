import type { Row } from "../../descriptor.ts";
import type { AuditContext, Rule } from "../auditContext.ts";
import { doubt, refOf } from "../doubt.ts";
import { type HeldItem, heldItems } from "../heldItems.ts";
import type { AuditRow } from "../types.ts";

/** Hours written at fitting may be this much below those in the records. Common practice, no source. */
const TOLERANCE_SHARE = 0.05;
const TOLERANCE_HOURS = 2;
/** A gauge repeats itself within this share of what it reads. Common practice, no source. */
const GAUGE_SHARE = 0.25;
const GAUGE_STEPS = 5;

/**
 * Age that falls without a restoration: an item carried over with fewer hours written at fitting than its runs add up
 * to, or whose wear, set or extrusion measures clearly less than at an earlier look. Then it was renewed and not written
 * down, or is another one, or hours since redress stand for hours since new.
 *
 * Source       Trade practice: hours since redress fall to 0 at each redress and never exceed hours since new; common
 *              practice, no source.
 * Cannot tell  A renewal nobody wrote where nothing is measured. Which of two measurements is wrong.
 */
export const ageFalls: Rule = (context) => {
  const steps = gaugeSteps(context);
  return heldItems(context, {
    onCarriedOver: (held, age, row) => fewerHours(held, age, row),
    onMeasured: (held, earlier, finding) => measuresLess(held, earlier, finding, steps),
  });
};

function fewerHours(held: HeldItem, age: number, row: Row<"fitted_items">): readonly AuditRow[] {
  const written = row.age_at_fitting_h;
  if (written == null || written >= age - Math.max(TOLERANCE_HOURS, TOLERANCE_SHARE * age)) return [];
  return [
    doubt("age falls without a restoration", "fitted_items", row, "age_at_fitting_h", {
      others: [refOf("fitted_items", held.fitted)],
      facts: { what: "hours", item: row.item, redress: row.redress, written, expected: Math.round(age) },
    }),
  ];
}

function measuresLess(
  held: HeldItem,
  earlier: Row<"findings">,
  later: Row<"findings">,
  steps: ReadonlyMap<string, number>,
): readonly AuditRow[] {
  const [before, now] = [earlier.measured ?? 0, later.measured ?? 0];
  const step = steps.get(gauge(later)) ?? Infinity;
  if (before - now <= Math.max(GAUGE_SHARE * before, GAUGE_STEPS * step)) return [];
  return [
    doubt("age falls without a restoration", "findings", later, "measured", {
      others: [refOf("findings", earlier), refOf("fitted_items", held.fitted)],
      facts: {
        what: "measured",
        item: later.item,
        serial: held.serial,
        kind: later.measured_kind ?? null,
        unit: later.measured_unit ?? null,
        written: now,
        expected: before,
        earlier_teardown: earlier.teardown,
      },
    }),
  ];
}

const gauge = (row: Row<"findings">): string => JSON.stringify([row.measured_kind, row.measured_unit]);

/** The finest step in which each kind of measurement is written. */
function gaugeSteps({ records }: AuditContext): ReadonlyMap<string, number> {
  const values = new Map<string, Set<number>>();
  for (const row of records.findings ?? []) {
    if (row.measured == null) continue;
    const known = values.get(gauge(row));
    if (known) known.add(row.measured);
    else values.set(gauge(row), new Set([row.measured]));
  }
  return new Map(
    [...values].map(([kind, set]) => {
      const sorted = [...set].sort((a, b) => a - b);
      const gaps = sorted.slice(1).map((value, index) => value - (sorted[index] ?? 0));
      return [kind, gaps.length === 0 ? 0 : Math.min(...gaps)];
    }),
  );
}
