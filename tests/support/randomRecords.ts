// Random shop records for laws of the derivation: consistent in their links, free in everything else.
import fc from "fast-check";
import { dateOf } from "../../analysis/lives/calendar.ts";
import type { Records, Row } from "../../analysis/records/descriptor.ts";

const items: readonly Row<"tool_items">[] = [
  { tool_type: "axial damper", item: "main seal", kind: "seal", position: 1 },
  { tool_type: "axial damper", item: "J1", kind: "joint", position: 2 },
];
const modes: readonly Row<"modes">[] = [
  { item: "seal", mode: "extrusion", announces: "hidden", threshold: 3, restored_by: "renewed", leads_to: "leak" },
  { item: "main seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed", leads_to: null },
  { item: "joint", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up", leads_to: null },
  { item: "J1", mode: "galling", announces: "hidden", threshold: 3, restored_by: "renewed", leads_to: null },
];
const modesOf = { "main seal": ["extrusion", "leak"], J1: ["back-off", "galling"] } as const;
type Item = keyof typeof modesOf;

const anItem = fc.constantFrom<Item>("main seal", "J1");
const step = fc.record({
  gap: fc.integer({ min: 0, max: 12 }),
  kind: fc.constantFrom("run", "run", "run", "look", "redress"),
  days: fc.integer({ min: 0, max: 6 }),
  hours: fc.option(fc.integer({ min: 0, max: 1200 }), { freq: 8 }),
  pulled: fc.constantFrom<Row<"runs">["pulled_because"]>(
    "planned",
    "planned",
    "tool failure",
    "hole problem",
    "lost in hole",
  ),
  seen: fc.option(fc.tuple(anItem, fc.nat(1), fc.option(fc.integer({ min: 0, max: 1200 }))), { freq: 3 }),
  findings: fc.uniqueArray(
    fc.tuple(anItem, fc.integer({ min: 0, max: 2 }), fc.constantFrom(0, 2, 3, 4, 5, null), fc.boolean()),
    { maxLength: 4, selector: ([item, which]) => `${item} ${which}` },
  ),
  scope: fc.subarray<Item>(["main seal", "J1"]),
  outside: fc.boolean(),
  renewed: fc.tuple(fc.option(fc.boolean(), { freq: 9 }), fc.option(fc.boolean(), { freq: 9 })),
  madeUp: fc.boolean(),
  test: fc.constantFrom<Row<"redresses">["pressure_test"] & string>("pass", "pass", "pass", "fail"),
  age: fc.option(fc.integer({ min: 0, max: 500 })),
});

/** A few serials with ten or so events each; with `allHours` every run has its hours written down. */
export function randomRecords({ allHours = false } = {}): fc.Arbitrary<Records> {
  return fc.array(fc.array(step, { minLength: 1, maxLength: 14 }), { minLength: 1, maxLength: 3 }).map((tools) => {
    const runs: Row<"runs">[] = [];
    const redresses: Row<"redresses">[] = [];
    const joints: Row<"joints">[] = [];
    const fitted: Row<"fitted_items">[] = [];
    const teardowns: Row<"teardowns">[] = [];
    const findings: Row<"findings">[] = [];
    tools.forEach((steps, tool) => {
      const serial = `T${tool + 1}`;
      let day = 20_000;
      steps.forEach((one, index) => {
        day += one.gap;
        const id = `${serial}-${index}`;
        if (one.kind === "run") {
          const [item, which, hour] = one.seen ?? [null, 0, null];
          const hours = one.hours ?? (allHours ? 17 : null);
          runs.push({
            run: id,
            serial,
            out_on: dateOf(day),
            in_on: dateOf(day + one.days),
            // Zero hours of a long run count as missing, so laws over all hours keep clear of them.
            hours: hours === null ? null : (allHours ? hours + 1 : hours) / 10,
            pulled_because: one.pulled,
            item_seen: item,
            mode_seen: item === null ? null : modesOf[item][which]!,
            hour_seen: hour === null ? null : hour / 10,
          });
          day += one.days;
        } else if (one.kind === "look") {
          teardowns.push({
            teardown: id,
            serial,
            done_on: dateOf(day),
            why: one.pulled === "tool failure" ? "tool failure" : "planned",
            scope: one.scope,
            kind: one.outside ? "outside only" : "stripped",
          });
          for (const [item, which, severity, consequence] of one.findings) {
            const condition = which === 0 ? "sound" : modesOf[item][which - 1]!;
            const causedBy = consequence && which === 2 ? modesOf[item][0] : null;
            findings.push({ teardown: id, item, condition, severity, caused_by: causedBy });
          }
        } else {
          redresses.push({ redress: id, serial, done_on: dateOf(day), reason: "planned", pressure_test: one.test });
          (["main seal", "J1"] as const).forEach((item, which) => {
            const renewed = one.renewed[which];
            if (renewed != null)
              fitted.push({ redress: id, item, renewed, age_at_fitting_h: renewed ? null : one.age });
          });
          if (one.madeUp || one.renewed[1]) joints.push({ redress: id, joint: "J1" });
        }
      });
    });
    // A redress far before everything gives the records a latest date even where the draw has no event.
    const tool_rows: Row<"tools">[] = tools.map((_, tool) => ({
      serial: `T${tool + 1}`,
      tool_type: "axial damper",
      size_in: 4.75,
      hours_at_entry: 0,
    }));
    return {
      tool_items: items,
      modes,
      tools: tool_rows,
      runs,
      redresses,
      joints,
      fitted_items: fitted,
      teardowns,
      findings,
    };
  });
}
