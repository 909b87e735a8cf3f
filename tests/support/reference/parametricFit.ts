import { z } from "zod";
import { fitWeibull, type WeibullFound } from "../../../analysis/estimation/fitWeibull.ts";
import { fixedShapeBounds, fixedShapeWeibull } from "../../../analysis/estimation/fixedShapeWeibull.ts";
import { informationCriteria } from "../../../analysis/estimation/informationCriteria.ts";
import { type LifeInput, lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { weibullBounds } from "../../../analysis/estimation/profileBounds.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { weibullWaldBounds } from "../../../analysis/estimation/waldBounds.ts";
import { type WeibullQuantity, weibullQuantity } from "../../../analysis/estimation/weibullQuantity.ts";
import { compareLaw, lawParameters } from "./parametricFitLaws.ts";
import { compareThreshold } from "./parametricFitThreshold.ts";
import { halfPrintedUnit } from "./printedUnit.ts";
import { countValues } from "./runCases.ts";
import type { Comparer, Comparers, Report } from "./types.ts";

const numbers = z.array(z.number());

const fitData = z.discriminatedUnion("type", [
  z.object({ type: z.literal("right"), time: numbers, status: numbers, count: numbers.optional() }),
  z.object({
    type: z.literal("left-truncated"),
    entry: numbers,
    time: numbers,
    status: numbers,
    count: numbers.optional(),
  }),
  z.object({
    type: z.literal("interval"),
    lower: numbers,
    upper: z.array(z.number().nullable()),
    count: numbers.optional(),
  }),
]);

/** The lives of a parametric-fit case. */
export function fitCaseSample(data: unknown): LifeSample {
  const rows = fitData.parse(data);
  const count = (i: number): number => rows.count?.[i] ?? 1;
  const lives: LifeInput[] =
    rows.type === "interval"
      ? rows.lower.map((lower, i) => ({ lower, upper: rows.upper[i] ?? null, count: count(i) }))
      : rows.time.map((time, i) => ({
          lower: time,
          upper: rows.status[i] === 1 ? time : null,
          entry: rows.type === "left-truncated" ? (rows.entry[i] ?? 0) : 0,
          count: count(i),
        }));
  return lifeSample({ unit: "as published", lives });
}

const end = z.object({ lower: z.number().nullable(), upper: z.number().nullable() });
const boundsAtLevel = z.strictObject({
  level: z.number(),
  shape: end,
  scale: end,
  b10: end,
  b50: end,
  reliability: end,
});
const matrix = z.array(numbers);
const weibullExpected = z.strictObject({
  distribution: z.literal("weibull"),
  parameters: z.strictObject({ shape: z.number(), scale: z.number() }),
  logLik: z.number(),
  k: z.number(),
  n: z.number(),
  failuresOrBounded: z.number(),
  aic: z.number(),
  aicc: z.number(),
  bic: z.number(),
  maxAbsScore: z.number(),
  covarianceTransformed: z.object({ names: z.tuple([z.literal("logShape"), z.literal("logScale")]), matrix }),
  covarianceNatural: z.object({ names: z.tuple([z.literal("shape"), z.literal("scale")]), matrix }),
  seNatural: z.object({ shape: z.number(), scale: z.number() }),
  b10: z.number(),
  b50: z.number(),
  reliability: z.object({ t: z.number(), value: z.number() }),
  waldCI: z.array(boundsAtLevel),
  profileCI: z.array(boundsAtLevel),
  survregCheck: z.unknown().optional(),
});
const fitExpected = z.object({
  fits: z.object({ weibull: weibullExpected }).catchall(z.unknown()),
  weibull3: z.unknown().optional(),
});

const compareFit: Comparer = (one, report) => {
  const { fits, weibull3, ...rest } = fitExpected.parse(one.expected);
  const { weibull, ...others } = fits;
  const sample = fitCaseSample(one.data);
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") {
    report.compare("weibull maximum", fit.maximum, "found");
    return;
  }
  compareWeibull(fit, sample, weibull, report);
  comparePublished(fit, sample, one.publishedValues ?? [], report);
  report.notCovered("the reference's own diagnostics", countValues([weibull.maxAbsScore, weibull.survregCheck ?? []]));
  for (const [name, values] of Object.entries(others)) compareLaw(name, sample, values, report);
  if (weibull3 !== undefined) compareThreshold(sample, weibull3, report);
  for (const [name, values] of Object.entries(rest)) report.notCovered(name, countValues(values));
};

function compareWeibull(
  fit: WeibullFound,
  sample: LifeSample,
  expected: z.infer<typeof weibullExpected>,
  report: Report,
): void {
  const { shape, scale, covariance } = fit;
  const quantities: Readonly<Record<"shape" | "scale" | "b10" | "b50" | "reliability", WeibullQuantity>> = {
    shape: { kind: "shape" },
    scale: { kind: "scale" },
    b10: { kind: "quantile", failedFraction: 0.1 },
    b50: { kind: "quantile", failedFraction: 0.5 },
    reliability: { kind: "survival", age: expected.reliability.t },
  };
  const names = ["shape", "scale", "b10", "b50", "reliability"] as const;
  report.compare("parameters", { shape, scale }, expected.parameters);
  report.compare("logLik", fit.logLikelihood, expected.logLik);
  report.compare("k", 2, expected.k);
  report.compare("n", fit.counts.lives, expected.n);
  report.compare("failures", fit.counts.failures, expected.failuresOrBounded);
  const { aic, aicc, bic } = informationCriteria(fit.logLikelihood, 2, fit.counts.lives);
  report.compare("criteria", [aic, aicc, bic], [expected.aic, expected.aicc, expected.bic]);
  const { logShape, logShapeLogScale, logScale } = covariance;
  report.compare(
    "covariance of (log shape, log scale)",
    [
      [logShape, logShapeLogScale],
      [logShapeLogScale, logScale],
    ],
    expected.covarianceTransformed.matrix,
  );
  report.compare(
    "covariance of (shape, scale)",
    [
      [shape * shape * logShape, shape * scale * logShapeLogScale],
      [shape * scale * logShapeLogScale, scale * scale * logScale],
    ],
    expected.covarianceNatural.matrix,
  );
  const errorOf = (name: "shape" | "scale"): number => weibullWaldBounds(fit, quantities[name], 0.95).standardError;
  report.compare("standard errors", { shape: errorOf("shape"), scale: errorOf("scale") }, expected.seNatural);
  report.compare("b10", weibullQuantity(quantities.b10, fit), expected.b10);
  report.compare("b50", weibullQuantity(quantities.b50, fit), expected.b50);
  report.compare("reliability", weibullQuantity(quantities.reliability, fit), expected.reliability.value);
  for (const atLevel of expected.waldCI) {
    for (const name of names) {
      const { lower, upper } = weibullWaldBounds(fit, quantities[name], atLevel.level);
      report.compare(`Wald ${atLevel.level} ${name}`, { lower, upper }, atLevel[name]);
    }
  }
  for (const atLevel of expected.profileCI) {
    for (const name of names) {
      const { lower, upper } = weibullBounds(fit, sample, quantities[name], atLevel.level);
      report.compare(`likelihood ratio ${atLevel.level} ${name}`, { lower, upper }, atLevel[name]);
    }
  }
}

/** Printed values, to half a unit of the last printed digit. */
function comparePublished(
  fit: WeibullFound,
  sample: LifeSample,
  published: readonly Readonly<Record<string, unknown>>[],
  report: Report,
): void {
  const { shape, scale, logLikelihood, covariance } = fit;
  const weibull: Readonly<Record<string, number>> = {
    shape,
    scale,
    logLik: logLikelihood,
    mu: Math.log(scale),
    sigma: 1 / shape,
    seMu: Math.sqrt(covariance.logScale),
    seSigma: Math.sqrt(covariance.logShape) / shape,
  };
  for (const { what, where, status, ...values } of published) {
    const words = typeof what === "string" ? what : "";
    const computed = words.startsWith("Weibull")
      ? weibull
      : words.startsWith("lognormal")
        ? lawParameters(sample, "lognormal")
        : words.startsWith("exponential")
          ? lawParameters(sample, "exponential")
          : {};
    // The turbine parts were printed in months and are kept in whole days: other inspection ages, other estimates.
    // tests/analysis/estimation/published.test.ts fits the months.
    const isOtherData = typeof where === "string" && where.endsWith("in months");
    for (const [name, value] of Object.entries(values)) {
      if (typeof value !== "number") continue;
      const own = computed[name];
      if (own === undefined) report.notCovered(`published: ${what}`, 1);
      else if (isOtherData) report.notCovered("published: computed from ages in months, data are in days", 1);
      else if (words === "exponential mean, hours" && value === 28701) {
        // The lives of the case total 344,440 h over 12 failures, 28703.33: the printed mean, from memory, is of other digits.
        report.notCovered("published: from memory, not the mean of the case's own data", 1);
      } else
        report.compare(`published, ${where} (${status}): ${name}`, own, value, { absolute: halfPrintedUnit(value) });
    }
  }
}

const fixedShapeData = z.object({ time: numbers, status: numbers, shape: z.number(), confidence: numbers });
const fixedShapeExpected = z.object({
  failures: z.number(),
  sumPowers: z.number(),
  etaMle: z.number().nullable(),
  etaLowerTimeCensored: numbers,
  etaUpperTimeCensored: numbers.nullable(),
  b10LowerTimeCensored: numbers,
});

const compareFixedShape: Comparer = (one, report) => {
  const { time, status, shape, confidence } = fixedShapeData.parse(one.data);
  const expected = fixedShapeExpected.loose().parse(one.expected);
  const { failures, sumPowers, etaMle, etaLowerTimeCensored, etaUpperTimeCensored, b10LowerTimeCensored, ...rest } =
    expected;
  const lives = time.map((at, i) => ({ lower: at, upper: status[i] === 1 ? at : null }));
  const fit = fixedShapeWeibull(lifeSample({ unit: "as published", lives }), shape);
  report.compare("failures", fit.failures, failures);
  report.compare("sum of powers", fit.sumOfPowers, sumPowers);
  report.compare("scale", fit.scale, etaMle);
  const bounds = confidence.map((level) => fixedShapeBounds(fit, { kind: "scale" }, level));
  const b10 = confidence.map((level) => fixedShapeBounds(fit, { kind: "quantile", failedFraction: 0.1 }, level).lower);
  report.compare(
    "scale, lower",
    bounds.map(({ lower }) => lower),
    etaLowerTimeCensored,
  );
  const upper = bounds.map((bound) => bound.upper);
  report.compare("scale, upper", upper.every((bound) => bound === null) ? null : upper, etaUpperTimeCensored);
  report.compare("B10, lower", b10, b10LowerTimeCensored);
  for (const [name, values] of Object.entries(rest)) report.notCovered(`fixed shape: ${name}`, countValues(values));
};

export const parametricFitComparers: Comparers = { "parametric-fit": compareFit, "fixed-shape": compareFixedShape };
