// The invented fleet knows every fault planted in it (datasets/sample-fleet/generator/plantFaults.ts): one switch at a
// time, each must raise exactly its doubt and nothing else may be doubted.
import { describe, expect, test } from "vitest";
import { auditRecords } from "../../../../analysis/records/audit/auditRecords.ts";
import { cleanFleet, dirtOff, effectsOn, type FleetDirt } from "../../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { expectedDoubts, explainExtra, placesOf } from "./expectedDoubts.ts";

/** Seeds whose fault-free fleets raise no alarm; how often others do is measured in tests/studies/auditAlarms.ts. */
const SEED = 1;

const fleetWith = (kind: keyof FleetDirt, seed = SEED) =>
  simulateFleet({ ...cleanFleet, seed, dirt: { ...dirtOff, [kind]: true } });

/** Generous: the machine may be busy. */
const TIME = { timeout: 60_000 };

test.each([
  ["off", cleanFleet.effects],
  ["on", effectsOn],
])("a fault-free fleet raises no doubt, effects %s", TIME, (_, effects) => {
  expect(auditRecords(simulateFleet({ ...cleanFleet, seed: 5, effects }).recorded)).toEqual([]);
});

describe("each planted fault raises its doubt, on its table, key and column, and nothing else is doubted", TIME, () => {
  const switches = (Object.keys(dirtOff) as (keyof FleetDirt)[]).filter((kind) => kind !== "soundUnwritten");
  test.each(switches)("%s", (kind) => {
    const fleet = fleetWith(kind);
    const doubts = auditRecords(fleet.recorded);
    const expected = expectedDoubts(fleet);
    const raised = new Map(
      doubts.flatMap((doubt) => placesOf(doubt).map((place) => [`${doubt.rule} ${place}`, doubt])),
    );

    const missed = expected.filter(({ rule, place }) => !raised.has(`${rule} ${place}`));
    expect(missed.filter(({ hidden }) => hidden === null).map(({ place }) => place)).toEqual([]);

    const wanted = new Set(expected.map(({ rule, place }) => `${rule} ${place}`));
    const extra = doubts.filter((doubt) => !placesOf(doubt).some((place) => wanted.has(`${doubt.rule} ${place}`)));
    expect(extra.filter((doubt) => explainExtra(fleet, doubt) === null).map(({ id }) => id)).toEqual([]);
    expect(extra.length).toBeLessThanOrEqual(Math.max(1, 0.05 * expected.length));
  });
});

test("where one value is clearly meant the doubt proposes what a perfect clerk would have written", TIME, () => {
  for (const kind of ["newtonMetres", "celsius", "swappedSerials"] as const) {
    const fleet = fleetWith(kind);
    const byPlace = new Map(auditRecords(fleet.recorded).map((doubt) => [`${doubt.row.key}`, doubt]));
    expect(fleet.planted.length).toBeGreaterThan(2);
    for (const { row, was } of fleet.planted) {
      const proposed = byPlace.get(row.key)?.proposes;
      // The shop wrote the other unit in whole numbers, so half of one is lost.
      if (typeof was === "number") expect(Math.abs(Number(proposed) - was)).toBeLessThanOrEqual(0.51);
      else expect(proposed).toBe(was);
    }
  }
});

test("a habit is told once: one row for a crew that rounds, or writes other", TIME, () => {
  const heaped = auditRecords(fleetWith("heapedHours").recorded).filter(({ rule }) => rule === "hours heaped");
  expect(heaped.map(({ facts }) => [facts.by, facts.name, facts.step])).toEqual([["crew", "crew 3", 10]]);
  const other = auditRecords(fleetWith("habitOther").recorded).filter(({ rule }) => rule === "other too often");
  expect(other.map(({ facts }) => [facts.by, facts.name])).toEqual([["crew", "crew 2"]]);
});

test("sound looks left out three times in ten are told for every technician and year", TIME, () => {
  const fleet = fleetWith("soundUnwritten");
  const doubts = auditRecords(fleet.recorded);
  expect(new Set(doubts.map(({ rule }) => rule))).toEqual(new Set(["sound looks rarely written"]));
  const groups = new Set(fleet.recorded.teardowns?.map((row) => `${row.technician} ${row.done_on.slice(0, 4)}`));
  expect(new Set(doubts.map(({ facts }) => `${facts.technician} ${facts.year}`))).toEqual(groups);
});
