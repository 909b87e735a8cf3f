import { z } from "zod";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import { fitLifeRegression } from "../../../analysis/practice/life/fitLifeRegression.ts";
import { lifeQuantile } from "../../../analysis/practice/life/lifeQuantile.ts";
import {
  caseName,
  designOfCase,
  numberColumn,
  planOfCase,
  type RegressionData,
  readFormula,
  regressionRowsSchema,
  reorder,
} from "./regressionData.ts";
import type { Comparer, Comparers } from "./types.ts";

const numbers = z.array(z.number());
const matrix = z.array(numbers);
const data = z.object({ rows: regressionRowsSchema, model: z.string(), newData: regressionRowsSchema.nullable() });
const fitExpected = z.strictObject({
  distribution: z.enum(["weibull", "exponential", "lognormal", "loglogistic"]),
  coefficients: z.record(z.string(), z.number()),
  scale: z.number(),
  covariance: z.object({ names: z.array(z.string()), matrix }),
  logLik: z.number(),
  logLikNull: z.number(),
  lrChiSquare: z.number(),
  df: z.number(),
  aic: z.number(),
  quantilesForNewData: z.object({ p: numbers, value: matrix, se: matrix }).optional(),
});
const expectedSchema = z.strictObject({ fits: z.record(z.string(), fitExpected) });
const published = z.array(
  z.object({ what: z.literal("Weibull: intercept, treat control, scale"), values: numbers }).loose(),
);

const compareLifeRegression: Comparer = (one, report) => {
  const { rows, model, newData } = data.parse(one.data);
  const { fits } = expectedSchema.parse(one.expected);
  const { response, terms } = readFormula(model);
  const sample = sampleOf(rows, response);
  for (const [name, expected] of Object.entries(fits)) {
    const plan = planOfCase(rows, terms, Object.keys(expected.coefficients));
    const design = designOfCase(rows, terms, plan);
    const fit = fitLifeRegression({ sample, design, law: expected.distribution });
    if (fit.maximum !== "found") throw new Error(`${name}: ${fit.maximum}`);
    const names = fit.covariance.names.map((one) =>
      one === "intercept" ? "(Intercept)" : one === "logSpread" ? "logScale" : caseName(one),
    );
    report.compare(
      `${name}: coefficients`,
      Object.fromEntries(fit.coefficients.map((value, j) => [names[j] ?? "", value])),
      expected.coefficients,
    );
    report.compare(`${name}: scale`, fit.spread, expected.scale);
    report.compare(
      `${name}: covariance`,
      reorder(names, fit.covariance.matrix, expected.covariance.names),
      expected.covariance.matrix,
    );
    report.compare(`${name}: logLik`, fit.logLikelihood, expected.logLik);
    report.compare(`${name}: logLikNull`, fit.nullLogLikelihood, expected.logLikNull);
    report.compare(`${name}: likelihood ratio`, fit.likelihoodRatio?.chiSquare, expected.lrChiSquare);
    report.compare(`${name}: df`, fit.likelihoodRatio?.degreesOfFreedom, expected.df);
    report.compare(`${name}: aic`, fit.akaike, expected.aic);
    const quantiles = expected.quantilesForNewData;
    if (quantiles && newData) {
      const fresh = designOfCase(newData, terms, plan);
      const k = fresh.names.length;
      const at = Array.from({ length: fresh.rows }, (_, i) =>
        quantiles.p.map((p) => lifeQuantile(fit, fresh.values.subarray(i * k, (i + 1) * k), p)),
      );
      report.compare(
        `${name}: quantiles`,
        at.map((row) => row.map(({ value }) => value)),
        quantiles.value,
      );
      report.compare(
        `${name}: their errors`,
        at.map((row) => row.map(({ standardError }) => standardError)),
        quantiles.se,
      );
    }
    if (name !== "weibull" || !one.publishedValues) continue;
    for (const entry of published.parse(one.publishedValues)) {
      report.compare(`published ${entry.what}`, [...fit.coefficients, fit.spread], entry.values, { absolute: 0.0005 });
    }
  }
};

function sampleOf(rows: RegressionData, [first = "", second = ""]: readonly string[]): LifeSample {
  if (first === "lower") {
    const ends = z.array(z.number().nullable());
    const [lower, upper] = [ends.parse(rows.lower), ends.parse(rows.upper)];
    return lifeSample({
      unit: "as published",
      lives: lower.map((low, i) => ({ lower: low ?? 0, upper: upper[i] ?? null })),
    });
  }
  const time = numberColumn(rows, first);
  const status = numberColumn(rows, second);
  return lifeSample({
    unit: "as published",
    lives: time.map((at, i) => ({ lower: at, upper: status[i] === 1 ? at : null })),
  });
}

/** Accelerated-life regression. */
export const lifeRegressionComparers: Comparers = { "life-regression": compareLifeRegression };
