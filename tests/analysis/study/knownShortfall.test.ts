// The figures are those of tests/studies/results/coverage-study.csv, four thousand simulated fleets a cell.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { coverageFigures } from "../../../analysis/study/coverageFigures.ts";
import { type BoundsAtHand, knownShortfall } from "../../../analysis/study/knownShortfall.ts";
import { sayNotice } from "../../../analysis/wording/index.ts";

const usual: BoundsAtHand = {
  method: "likelihood ratio",
  failures: 5,
  exact: 5,
  looksALife: 0,
  toolsDiffer: false,
};

const rows = readFileSync(new URL("../../studies/results/coverage-study.csv", import.meta.url), "utf8")
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => {
    const [scheme = "", spread, , failures, method = "", quantity, fleets, below, above] = line.split(",");
    return {
      scheme,
      spread: Number(spread),
      failures: Number(failures),
      method: method.replaceAll('"', ""),
      quantity,
      fleets: Number(fleets),
      below: Number(below),
      above: Number(above),
    };
  });

test("every figure that is quoted is the mean of its cells in the table", () => {
  // A method with a comma in its name is cut in two by the split above: those rows are left to the generator.
  const simple = coverageFigures.filter(({ method }) => method !== "by serial");
  expect(simple.length).toBeGreaterThan(20);
  for (const figure of simple) {
    const schemes = {
      "known age": ["time-ended", "staggered entry"],
      "few looks": ["2 looks a life"],
      "many looks": ["6 looks a life"],
    }[figure.kind];
    const cells = rows.filter(
      (row) =>
        schemes.includes(row.scheme) &&
        row.spread === figure.spread &&
        row.failures === figure.failures &&
        row.method === figure.method &&
        row.quantity === "B10",
    );
    expect(cells.length).toBe(3 * schemes.length);
    const fleets = cells.reduce((sum, cell) => sum + cell.fleets, 0);
    const below = cells.reduce((sum, cell) => sum + cell.below * cell.fleets, 0) / fleets;
    expect(Math.abs(figure.below - below)).toBeLessThan(0.0006);
  }
});

describe("what is said", () => {
  test("few failures: the lower bound claims too much, with its figure", () => {
    const shortfall = knownShortfall(usual);
    expect(shortfall).toMatchObject({ failures: 5, kind: "known age", spread: 0, side: "lower" });
    expect(shortfall?.missed).toBeGreaterThan(0.06);
    expect(shortfall?.missed).toBeLessThan(0.09);
  });

  test("observed failures read the row nearest in ratio", () => {
    expect(knownShortfall({ ...usual, failures: 1, exact: 1 })?.failures).toBe(3);
    expect(knownShortfall({ ...usual, failures: 4, exact: 4 })?.failures).toBe(5);
    expect(knownShortfall({ ...usual, failures: 14, exact: 14 })?.failures).toBe(10);
  });

  test("many failures, or more than were studied: nothing", () => {
    expect(knownShortfall({ ...usual, failures: 40, exact: 40 })).toBeNull();
    expect(knownShortfall({ ...usual, method: "Wald", failures: 400, exact: 400 })).toBeNull();
    expect(knownShortfall({ ...usual, failures: 0, exact: 0 })).toBeNull();
  });

  test("looks a life, tools that differ and the method each have a row of their own", () => {
    const found = { ...usual, exact: 0, looksALife: 2 };
    expect(knownShortfall(found)?.kind).toBe("few looks");
    expect(knownShortfall({ ...found, looksALife: 6 })?.kind).toBe("many looks");
    expect(knownShortfall({ ...usual, toolsDiffer: true })?.spread).toBe(0.3);
    const [wald, ratio] = [knownShortfall({ ...usual, method: "Wald" }), knownShortfall(usual)];
    expect(wald?.missed).toBeGreaterThan(1.5 * (ratio?.missed ?? 1));
    expect(knownShortfall({ ...found, method: "by serial", failures: 10 })?.side).toBe("upper");
  });

  test("in words", () => {
    const facts = { failures: 5, kind: "few looks", side: "lower", missed: 0.077 };
    expect(sayNotice({ code: "bounds-fall-short", facts })).toBe(
      "Bounds like these claim too much more often than they say: in simulated fleets with about 5 failures found at few inspections a life, the true 10 % age lay below the lower 90 % bound in 7.7 % of them, where 5 % is meant.",
    );
    expect(sayNotice({ code: "bounds-fall-short", facts: { ...facts, side: "upper" } })).toContain("above the upper");
  });
});
