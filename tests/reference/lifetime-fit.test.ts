// Expected values: R 4.2.2 and survival 3.5.3, certified by the score at zero; the sources of the data stand in the file.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./lifetime-fit.json", import.meta.url));

test.each(file.cases.map((one) => [one.name, one] as const))(
  "%s: estimates, covariances, readings and bounds by both methods agree for every law",
  (_, one) => {
    const outcome = runCases({ ...file, cases: [one] });
    expect(outcome.outside).toEqual([]);
    // Parameters, criteria, two covariances, and ten intervals by each of two methods, for four laws or more.
    expect(outcome.compared).toBeGreaterThanOrEqual(250);
  },
);

test("all but the generalised gamma law's expected information, which is off itself, agrees to 1e-8", () => {
  const cases = file.cases.map((one) => {
    const expected = one.expected as { fits: Record<string, unknown> };
    const { generalizedGamma: _, ...fits } = expected.fits;
    return { ...one, expected: { fits } };
  });
  const outcome = runCases({ ...file, cases });
  expect(outcome.outside).toEqual([]);
  expect(outcome.worstRelativeDifference).toBeLessThan(1e-8);
});

test("a wrong expected bound, and one said to be open, are noticed", () => {
  const [one] = file.cases;
  if (!one) throw new Error("empty file");
  const text = JSON.stringify(one.expected);
  const wrong = JSON.parse(text.replace('"lower":16.2884002644404', '"lower":16.28')) as unknown;
  const open = JSON.parse(text.replace('"lower":16.2884002644404', '"lower":null')) as unknown;
  expect(runCases({ ...file, cases: [{ ...one, expected: wrong }] }).outside).toHaveLength(1);
  expect(runCases({ ...file, cases: [{ ...one, expected: open }] }).outside).toHaveLength(1);
});

test("what is not compared is the reference's own diagnostics and two printed values of other data, by name", () => {
  expect([...runCases(file).notCovered.keys()].sort()).toEqual([
    "published: computed from ages in months, data are in days",
    "published: from memory, not the mean of the case's own data",
    "the reference's own diagnostics",
  ]);
}, 30_000);
