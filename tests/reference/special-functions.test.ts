// Reference values: R 4.2.2 (nmath), the sources stand in the file.
import { expect, test } from "vitest";
import { readReferenceFile } from "../support/reference/readReferenceFile.ts";
import { runCases } from "../support/reference/runCases.ts";

const file = readReferenceFile(new URL("./special-functions.json", import.meta.url));

test.each(file.cases.map((one) => [one.name, one] as const))("%s is within tolerance at every point", (_, one) => {
  const outcome = runCases({ ...file, cases: [one] });
  expect(outcome.outside).toEqual([]);
  expect(outcome.unknownKinds).toEqual([]);
  const missing = [...outcome.notCovered.values()].reduce((sum, count) => sum + count, 0);
  expect(outcome.compared + missing).toBeGreaterThan(0);
});

test("every function of the file is computed here", () => {
  expect([...runCases(file).notCovered.keys()]).toEqual([]);
});

test("the runner notices a wrong value, a wrong shape and an unknown kind", () => {
  const [first] = file.cases;
  if (!first) throw new Error("empty file");
  const wrong = runCases({ ...file, cases: [{ ...first, expected: { values: [1] } }] });
  expect(wrong.outside).toHaveLength(1);
  const shapeless = runCases({ ...file, cases: [{ ...first, data: {} }] });
  expect(shapeless.outside).toHaveLength(1);
  expect(runCases({ ...file, cases: [{ ...first, kind: "unheard of" }] }).unknownKinds).toEqual(["unheard of"]);
});
