// Expected values: R 4.2.2 and survival 3.5.3, certified by the score at zero; the sources of the data stand in the file.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./lifetime-fit.json", import.meta.url));

test.each(file.cases.map((one) => [one.name, one] as const))(
  "%s: Weibull estimate, covariance, readings and bounds by both methods agree",
  (_, one) => {
    const outcome = runCases({ ...file, cases: [one] });
    expect(outcome.outside).toEqual([]);
    // Parameters, criteria, two covariances, and ten intervals by each of two methods.
    expect(outcome.compared).toBeGreaterThanOrEqual(62);
    expect(outcome.worstRelativeDifference).toBeLessThan(1e-8);
  },
);

test("a wrong expected bound, and one said to be open, are noticed", () => {
  const [one] = file.cases;
  if (!one) throw new Error("empty file");
  const text = JSON.stringify(one.expected);
  const wrong = JSON.parse(text.replace('"lower":16.2884002644404', '"lower":16.28')) as unknown;
  const open = JSON.parse(text.replace('"lower":16.2884002644404', '"lower":null')) as unknown;
  expect(runCases({ ...file, cases: [{ ...one, expected: wrong }] }).outside).toHaveLength(1);
  expect(runCases({ ...file, cases: [{ ...one, expected: open }] }).outside).toHaveLength(1);
});

test("what is not computed here is other laws and the reference's own diagnostics, by name", () => {
  expect([...runCases(file).notCovered.keys()].sort()).toEqual([
    "fit of exponential",
    "fit of gamma",
    "fit of generalizedGamma",
    "fit of gumbelMin",
    "fit of loglogistic",
    "fit of lognormal",
    "fit of normal",
    "fit of weibull3",
    "published: computed from ages in months, data are in days",
    "published: exponential mean, hours",
    "published: lognormal MLE",
    "the reference's own diagnostics",
  ]);
});
