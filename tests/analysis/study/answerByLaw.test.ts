// A law other than Weibull, chosen by the reader: readings, curve and bounds come from it.
import { expect, test } from "vitest";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { normalQuantile } from "../../../analysis/numerics/index.ts";
import { answerByLaw } from "../../../analysis/study/answerByLaw.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { ItemLifeResult, LawChoice } from "../../../analysis/study/types.ts";
import { sayAnswer, sayLifeFinding, sayNotice, sayReading } from "../../../analysis/wording/index.ts";
import { smallShop } from "../../support/smallShop.ts";
import { context } from "./handShop.ts";

// Lieblein & Zelen (1956), J. Res. Nat. Bur. Stand. 57, 273-316: 23 ball bearings, millions of revolutions.
const bearings = [
  17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12,
  98.64, 105.12, 105.84, 127.92, 128.04, 173.4,
];
const sample = lifeSample({ unit: "h", lives: bearings.map((age) => ({ lower: age, upper: age })) });

// All ages known: by hand, mu and sigma are mean and deviation (divided by n) of the logarithms.
test("ball bearings by the lognormal law: median and B10 from mean and deviation of the logarithms", () => {
  const logs = bearings.map(Math.log);
  const mu = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const sigma = Math.sqrt(logs.reduce((sum, log) => sum + (log - mu) ** 2, 0) / logs.length);
  const answer = answerByLaw(sample, "lognormal", 50, 0.9, (half) => [0, half]);
  if (typeof answer === "string") throw new Error(answer);
  expect(answer.fit.shape.value).toBeCloseTo(sigma, 8);
  expect(answer.fit.scale.value).toBeCloseTo(Math.exp(mu), 6);
  expect(answer.readings.median.value).toBeCloseTo(Math.exp(mu), 6);
  expect(answer.readings.b10.value).toBeCloseTo(Math.exp(mu + sigma * normalQuantile(0.1)), 6);
  // The curve's bounds at the median are those of survival there.
  expect(answer.survival?.value[1]).toBeCloseTo(0.5, 8);
  expect(answer.survival?.lower[1]).toBeLessThan(0.5);
  expect(answer.survival?.upper[1]).toBeGreaterThan(0.5);
});

test("ball bearings by the exponential law: the mean is hours over failures, and the shape is 1 without bounds", () => {
  const answer = answerByLaw(sample, "exponential", 50, 0.9, () => [0]);
  if (typeof answer === "string") throw new Error(answer);
  const mean = bearings.reduce((sum, age) => sum + age, 0) / bearings.length;
  expect(answer.readings.mean.value).toBeCloseTo(mean, 6);
  expect(answer.fit.shape).toMatchObject({ value: 1, lower: null, upper: null });
});

function itemLife(law?: LawChoice): ItemLifeResult {
  const definition = { ...defaultStudy("item life", { item: "main seal", mode: "wear" }), ...(law && { law }) };
  const result = runStudy(definition, smallShop(), context);
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
}

test.each(["lognormal", "exponential", "loglogistic", "gamma"] as const)(
  "%s chosen: the readings are those of its row in the comparison",
  (law) => {
    const usual = itemLife();
    const chosen = itemLife(law);
    const row = usual.laws.find((one) => one.law === law);
    expect(chosen.fit?.distribution).toBe(law);
    expect(chosen.readings.b10.value).toBeCloseTo(row?.b10 ?? 0, 6);
    expect(chosen.readings.median.value).toBeCloseTo(row?.median ?? 0, 6);
    expect(chosen.laws).toEqual(usual.laws);
    expect(chosen.provenance.studyHash).not.toBe(usual.provenance.studyHash);
    expect(sayAnswer(chosen)).toContain(`by the ${law} law`);
    expect(sayLifeFinding(chosen, "probability")).toContain(law);
  },
);

// By hand, all ages known: the normal law's mean and deviation (divided by n) are those of the ages; B10 is mean - 1.281552 deviation.
test("ball bearings by the normal law: mean and deviation of the ages", () => {
  const answer = answerByLaw(sample, "normal", 50, 0.9, (half) => [0, half]);
  if (typeof answer === "string") throw new Error(answer);
  const mean = bearings.reduce((sum, age) => sum + age, 0) / bearings.length;
  const deviation = Math.sqrt(bearings.reduce((sum, age) => sum + (age - mean) ** 2, 0) / bearings.length);
  expect(answer.readings.median.value).toBeCloseTo(mean, 6);
  expect(answer.fit.shape).toMatchObject({ unit: "h" });
  expect(answer.fit.shape.value).toBeCloseTo(deviation, 6);
  expect(answer.readings.b10.value).toBeCloseTo(mean - 1.281552 * deviation, 4);
});

// Lawless (2003), section 5.3, fits the same data by the generalised gamma law: both the Weibull (Q = 1) and the lognormal law (Q = 0)
// lie inside, near the estimate (from memory). What is checked: the likelihood is not below theirs, and the bounds of Q hold both.
test("ball bearings by the generalised gamma law: between lognormal and Weibull, and no worse than either", () => {
  const answer = answerByLaw(sample, "generalised gamma", 50, 0.95, (half) => [0, half]);
  const others = (["lognormal", "gamma"] as const).map((law) => answerByLaw(sample, law, 50, 0.95, () => [0]));
  if (typeof answer === "string") throw new Error(answer);
  for (const other of others) {
    if (typeof other === "string") throw new Error(other);
    expect(answer.fit.logLikelihood).toBeGreaterThanOrEqual(other.fit.logLikelihood - 1e-9);
  }
  const { lower, upper } = answer.fit.third ?? { lower: null, upper: null };
  expect(lower).toBeLessThan(0);
  expect(upper).toBeGreaterThan(1);
});

test("an age below 0, by a law that is not cut there, is said and not shown as an age", () => {
  const wide = lifeSample({ unit: "h", lives: [1, 2, 3, 5, 900].map((age) => ({ lower: age, upper: age })) });
  const answer = answerByLaw(wide, "normal", 50, 0.9, () => [0, 100]);
  if (typeof answer === "string") throw new Error(answer);
  expect(answer.readings.b10).toMatchObject({ value: null, lower: null, why: "before 0 h" });
  expect(answer.readings.median.lower).toBe(0);
  expect(sayReading(answer.readings.b10)).toBe("before 0 h");
});

test("a law with three parameters says which bounds its curve has", () => {
  const codes = itemLife("generalised gamma").notices.map(({ code }) => code);
  expect(codes.includes("curve-by-wald")).not.toBe(codes.includes("law-without-maximum"));
});

test("a law that these lives do not settle is not read, and the answer says which", () => {
  const result = itemLife("three-parameter weibull");
  expect(result.fit).toBeNull();
  expect(result.laws.map(({ law }) => law)).toContain("weibull");
  expect(result.notices.map(sayNotice).join(" ")).toContain("three-parameter Weibull");
  expect(sayAnswer(result)).toContain("three-parameter Weibull law");
});

test("a Weibull law asked for by name is the usual answer", () => {
  expect({ ...itemLife("weibull"), definition: null, provenance: null }).toEqual({
    ...itemLife(),
    definition: null,
    provenance: null,
  });
});
