// Laws of the derivation on random histories.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { highOf, lowOf } from "../../../analysis/lives/age.ts";
import { deriveLives, latestDate } from "../../../analysis/lives/deriveLives.ts";
import type { Age, DerivedLives } from "../../../analysis/lives/types.ts";
import type { Records, Row } from "../../../analysis/records/descriptor.ts";
import { randomRecords } from "../../support/randomRecords.ts";

const cutoff = "2040-01-01";
const derive = (records: Records) => deriveLives(records, { cutoff });
const place = (row: { serial: string; item: string; mode: string; since: string }) =>
  `${row.serial} ${row.item} ${row.mode} ${row.since}`;
const placed = ({ lives, noInformationYet, excluded }: DerivedLives) =>
  [...lives, ...noInformationYet, ...excluded].map(place);

/** Restorations counted the slow way, redress by redress, straight from the sheets' rows. */
function restorations({ redresses = [], fitted_items = [], joints = [] }: Records): string[] {
  const found: string[] = [];
  for (const serial of new Set(redresses.map((row) => row.serial))) {
    const own = redresses
      .filter((row) => row.serial === serial)
      .sort(
        (a, b) =>
          a.done_on.localeCompare(b.done_on) || Number(a.redress.split("-")[1]) - Number(b.redress.split("-")[1]),
      );
    for (const [item, mode, madeUp] of [
      ["main seal", "extrusion", false],
      ["main seal", "leak", false],
      ["J1", "galling", false],
      ["J1", "back-off", true],
    ] as const) {
      let before: Row<"fitted_items"> | null | undefined;
      for (const { redress } of own) {
        const fitted = fitted_items.find((row) => row.redress === redress && row.item === item) ?? null;
        const joint = joints.some((row) => row.redress === redress && row.joint === item);
        // The first redress names the item; nothing written cuts the thread, and what follows it is a start of its own.
        const starts = before === undefined || fitted === null || fitted.renewed || (madeUp && joint);
        if (starts) found.push(`${serial} ${item} ${mode} ${redress}`);
        before = fitted;
      }
    }
  }
  return found;
}

describe("laws of the derivation", () => {
  test("order of rows never matters", () => {
    fc.assert(
      fc.property(randomRecords(), fc.infiniteStream(fc.nat(1_000_000)), (records, stream) => {
        const shuffled = Object.fromEntries(
          Object.entries(records).map(([name, rows]) => [
            name,
            rows
              .map((row) => ({ row, at: stream.next().value ?? 0 }))
              .sort((a, b) => a.at - b.at)
              .map(({ row }) => row),
          ]),
        ) as Records;
        expect(derive(shuffled)).toEqual(derive(records));
      }),
      { numRuns: 300 },
    );
  });

  test("every restoration of every mode lands in exactly one place", () => {
    fc.assert(
      fc.property(randomRecords(), (records) => {
        expect(placed(derive(records)).sort()).toEqual(restorations(records).sort());
      }),
      { numRuns: 500 },
    );
  });

  test("hours used and hours unused add up to all hours", () => {
    fc.assert(
      fc.property(randomRecords({ allHours: true }), (records) => {
        const { hours } = derive(records);
        const unused = hours.unused.reduce((sum, one) => sum + lowOf(one.hours), 0);
        const total = (records.runs ?? []).reduce((sum, run) => sum + (run.hours ?? 0), 0);
        expect(lowOf(hours.total)).toBeCloseTo(total, 6);
        expect(lowOf(hours.used) + unused).toBeCloseTo(total, 6);
      }),
      { numRuns: 300 },
    );
  });

  test("hours written as minutes or as days give the same lives on their own clock", () => {
    const times = (factor: number, age: Age): Age =>
      typeof age === "number" ? age * factor : [age[0] * factor, age[1] * factor];
    const close = (a: Age, b: Age) => {
      expect(lowOf(a)).toBeCloseTo(lowOf(b), 3);
      expect(highOf(a)).toBeCloseTo(highOf(b), 3);
    };
    fc.assert(
      fc.property(randomRecords({ allHours: true }), fc.constantFrom(60, 1 / 24), (records, factor) => {
        const scaled = {
          ...records,
          runs: (records.runs ?? []).map((run) => ({
            ...run,
            hours: (run.hours ?? 0) * factor,
            hour_seen: run.hour_seen == null ? null : run.hour_seen * factor,
          })),
          fitted_items: (records.fitted_items ?? []).map((row) => ({
            ...row,
            age_at_fitting_h: row.age_at_fitting_h == null ? null : row.age_at_fitting_h * factor,
          })),
        };
        const [inHours, inOther] = [derive(records).lives, derive(scaled).lives];
        expect(inOther.map(({ id, kind }) => ({ id, kind }))).toEqual(inHours.map(({ id, kind }) => ({ id, kind })));
        inHours.forEach((life, index) => {
          close(times(factor, life.lower), inOther[index]!.lower);
          if (life.upper !== null) close(times(factor, life.upper), inOther[index]!.upper!);
        });
      }),
      { numRuns: 200 },
    );
  });

  test("a look that finds an item sound never widens what was known", () => {
    fc.assert(
      fc.property(randomRecords(), fc.nat(10_000), fc.constantFrom("main seal", "J1"), (records, pick, item) => {
        const days = [...(records.runs ?? []).map((run) => ({ serial: run.serial, on: run.in_on ?? run.out_on }))];
        fc.pre(days.length > 0);
        const { serial, on } = days[pick % days.length]!;
        const more: Records = {
          ...records,
          teardowns: [
            ...(records.teardowns ?? []),
            { teardown: "extra", serial, done_on: on, why: "planned", kind: "stripped", scope: [] },
          ],
          findings: [...(records.findings ?? []), { teardown: "extra", item, condition: "sound", severity: 0 }],
        };
        const after = new Map(derive(more).lives.map((life) => [life.id, life]));
        for (const before of derive(records).lives) {
          const now = after.get(before.id);
          expect(now, before.id).toBeDefined();
          // Sound after it was known failed is a contradiction of the records, not knowledge.
          if (!now || (before.upper !== null && highOf(now.lower) >= highOf(before.upper))) continue;
          expect(lowOf(now.lower)).toBeGreaterThanOrEqual(lowOf(before.lower));
          if (before.upper !== null) expect(highOf(now.upper ?? Infinity)).toBeLessThanOrEqual(highOf(before.upper));
        }
      }),
      { numRuns: 500 },
    );
  });

  test("without a cut-off the latest date in the records is taken, and said", () => {
    fc.assert(
      fc.property(randomRecords(), (records) => {
        fc.pre((records.runs ?? []).length > 0);
        expect(deriveLives(records, { cutoff: null }).cutoff).toBe(latestDate(records));
      }),
      { numRuns: 50 },
    );
  });
});
