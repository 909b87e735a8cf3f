import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { fitWeibull } from "../../analysis/estimation/fitWeibull.ts";
import { lifeSample } from "../../analysis/estimation/lifeSample.ts";
import { type LivesSheet, readLivesSheet } from "../../analysis/index.ts";
import { readSheet } from "../../server/intake/readSheet.ts";

const folder = join(import.meta.dirname, "../../datasets/published");
const names = readdirSync(folder)
  .filter((file) => file.endsWith(".csv"))
  .map((file) => file.slice(0, -4));

interface PublishedFit {
  readonly shape: number;
  /** Null: not reproduced, with the reason in the data package; then only the scale is compared. */
  readonly shapePrintedTo: number | null;
  readonly scale: number;
  readonly scalePrintedTo: number;
  readonly group?: string;
}

const livesOf = (name: string): LivesSheet =>
  readLivesSheet(readSheet(readFileSync(join(folder, `${name}.csv`)), `${name}.csv`));
const packageOf = (name: string) => JSON.parse(readFileSync(join(folder, `${name}.datapackage.json`), "utf8"));

describe("the published data sets", () => {
  test("there are eleven, each with its data package", () => {
    expect(names).toHaveLength(11);
    expect(readdirSync(folder)).toHaveLength(22);
  });

  test.each(names)("%s reads as lives without a problem, with the numbers its data package states", (name) => {
    const { lives, problems, unit } = livesOf(name);
    const described = packageOf(name);
    const sum = (counted: typeof lives) => counted.reduce((total, { count }) => total + count, 0);
    expect(problems).toEqual([]);
    expect(unit).toBe(described.timeUnit);
    expect(sum(lives)).toBe(described.n);
    expect(sum(lives.filter(({ upper }) => upper === null))).toBe(described.censored);
    expect(lifeSample({ unit: described.timeUnit, lives }).n).toBe(lives.length);
    expect(described.sources[0].title.length).toBeGreaterThan(10);
    expect(described.publicStatus.length).toBeGreaterThan(10);
    expect(described.eventCoding).toContain("still good at");
    const headers = readSheet(readFileSync(join(folder, `${name}.csv`)), name).headers;
    expect(described.resources[0].schema.fields.map((field: { name: string }) => field.name)).toEqual(headers);
  });

  // Each value with its place stands in the data package; tolerance is half a unit of the last printed digit, carried
  // through the conversion where the source prints another parametrisation or unit.
  const cases = names.flatMap((name) =>
    packageOf(name).published.map((fit: PublishedFit): [string, PublishedFit] => [name, fit]),
  );
  test.each(cases)("%s gives the Weibull fit printed with it", (name, printed) => {
    const { lives } = livesOf(name);
    const chosen =
      printed.group === undefined ? lives : lives.filter(({ covariates }) => covariates.Group === printed.group);
    const fit = fitWeibull(lifeSample({ unit: "any", lives: chosen }));
    if (fit.maximum !== "found") throw new Error(fit.maximum);
    const rounding = 1e-9;
    if (printed.shapePrintedTo !== null) {
      expect(Math.abs(fit.shape - printed.shape)).toBeLessThanOrEqual(printed.shapePrintedTo / 2 + rounding);
    }
    expect(Math.abs(fit.scale - printed.scale)).toBeLessThanOrEqual(printed.scalePrintedTo / 2 + rounding);
  });

  test("seven data sets have a printed fit to compare with, six of them in the shape as well", () => {
    expect(cases).toHaveLength(7);
    expect(cases.filter(([, { shapePrintedTo }]) => shapePrintedTo !== null)).toHaveLength(6);
  });
});
