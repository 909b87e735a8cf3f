import { expect, test } from "vitest";
import { checkFuzzedDrop } from "../../support/checkFuzzedDrop.ts";

// The first two hundred of the ten thousand of tests/studies/fuzzDrops.ts; a seed that failed once is named here.
const eachTime = Array.from({ length: 200 }, (_, seed) => seed);

test("two hundred drops made to break the reader: each is read with every line accounted for, or refused by name", () => {
  const outcomes = eachTime.map((seed) => {
    try {
      return checkFuzzedDrop(seed);
    } catch (error) {
      throw new Error(`seed ${seed}: ${error instanceof Error ? error.message : String(error)}`);
    }
  });
  const read = outcomes.filter(({ outcome }) => outcome === "read");
  // The drops are worth reading: many are read, with lines of both kinds, and refused for many reasons.
  expect(read.length).toBeGreaterThan(80);
  expect(read.reduce((sum, { lines }) => sum + lines, 0)).toBeGreaterThan(1_000);
  expect(read.reduce((sum, { setAside }) => sum + setAside, 0)).toBeGreaterThan(200);
  expect(new Set(outcomes.map(({ outcome }) => outcome)).size).toBeGreaterThan(5);
});
