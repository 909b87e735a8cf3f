// Expected values: R 4.2.2 with survival 3.5.3, and printed values; sources stand in the file. Published data sets.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./regression.json", import.meta.url));
const least: Readonly<Record<string, number>> = {
  "life-regression": 30,
  "proportional-hazards": 200,
  "proportional-hazards-frailty": 300,
  "weibull-gamma-frailty": 35,
  "penalised-proportional-hazards": 18,
};

test.each(file.cases.map((one) => [`${one.kind}: ${one.name}`, one] as const))("%s: every value", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] });
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  expect(outcome.compared).toBeGreaterThanOrEqual(least[one.kind] ?? Number.POSITIVE_INFINITY);
});

test("all but the frailties of the proportional hazards, which the reference stops at 1e-7, agree to 1e-8", () => {
  const cases = file.cases.filter(({ kind }) => kind !== "proportional-hazards-frailty");
  expect(runCases({ ...file, cases }).worstRelativeDifference).toBeLessThan(1e-8);
});

test("what is not compared is the reference's own score, and four frailties near 0 are disputed", () => {
  const outcome = runCases(file);
  expect([...outcome.notCovered.keys()]).toEqual(["maxAbsScore"]);
  expect([...outcome.disputed.values()]).toEqual([4]);
});

test("a wrong coefficient is noticed", () => {
  const [one] = file.cases;
  if (!one) throw new Error("empty file");
  const wrong = JSON.parse(JSON.stringify(one.expected).replace("-17.8696581117317", "-17.86966")) as unknown;
  expect(runCases({ ...file, cases: [{ ...one, expected: wrong }] }).outside).toHaveLength(1);
});
