import { z } from "zod";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { fitWeibullFrailty } from "../../../analysis/practice/life/fitWeibullFrailty.ts";
import { designOfCase, numberColumn, planOfCase, regressionRowsSchema, reorder } from "./regressionData.ts";
import type { Comparer, Comparers } from "./types.ts";

const coefficients = z.record(z.string(), z.number());
const data = z.object({ rows: regressionRowsSchema, cluster: z.array(z.string()), covariates: z.array(z.string()) });
const expectedSchema = z.strictObject({
  shape: z.number(),
  scale: z.number(),
  frailtyVariance: z.number(),
  coefficients,
  logLik: z.number(),
  covarianceTransformed: z.object({ names: z.array(z.string()), matrix: z.array(z.array(z.number())) }),
  maxAbsScore: z.number(),
  noFrailty: z.strictObject({ shape: z.number(), scale: z.number(), coefficients, logLik: z.number() }),
  lrChiSquareForFrailty: z.number(),
});

const compareFrailty: Comparer = (one, report) => {
  const { rows, cluster, covariates } = data.parse(one.data);
  const expected = expectedSchema.parse(one.expected);
  const status = numberColumn(rows, "status");
  const lives = numberColumn(rows, "time").map((at, i) => ({ lower: at, upper: status[i] === 1 ? at : null }));
  const fit = fitWeibullFrailty({
    sample: lifeSample({ unit: "as published", lives }),
    design: designOfCase(rows, covariates, planOfCase(rows, covariates, covariates)),
    clusters: cluster,
  });
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  const byName = (values: readonly number[]) =>
    Object.fromEntries(fit.names.map((name, j) => [name, values[j] ?? null]));
  report.compare("shape", fit.shape, expected.shape);
  report.compare("scale", fit.scale, expected.scale);
  report.compare("frailty variance", fit.frailtyVariance, expected.frailtyVariance);
  report.compare("coefficients", byName(fit.coefficients), expected.coefficients);
  report.compare("logLik", fit.logLikelihood, expected.logLik);
  report.compare(
    "covariance",
    reorder(fit.covariance.names, fit.covariance.matrix, expected.covarianceTransformed.names),
    expected.covarianceTransformed.matrix,
  );
  const { spread, coefficients: plain, logLikelihood } = fit.withoutSpread;
  report.compare(
    "without spread",
    {
      shape: 1 / spread,
      scale: Math.exp(plain[0] ?? Number.NaN),
      coefficients: byName(plain.slice(1).map((b) => -b / spread)),
      logLik: logLikelihood,
    },
    expected.noFrailty,
  );
  report.compare("spread test", fit.spreadTest.chiSquare, expected.lrChiSquareForFrailty);
  report.notCovered("maxAbsScore", 1);
};

/** Weibull regression with a gamma frailty shared by tool. */
export const weibullFrailtyComparers: Comparers = { "weibull-gamma-frailty": compareFrailty };
