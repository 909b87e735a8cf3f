import { z } from "zod";
import { factorPositive } from "../../../analysis/practice/common/factorPositive.ts";
import { fitHazardFrailty, marginalLogLikelihood } from "../../../analysis/practice/hazards/fitHazardFrailty.ts";
import {
  type FrailtyFits,
  type FrailtyPoint,
  frailtyPartialLikelihood,
} from "../../../analysis/practice/hazards/frailtyPartialLikelihood.ts";
import { hazardRows } from "../../../analysis/practice/hazards/hazardRows.ts";
import { designOfCase, numberColumn, planOfCase, readFormula, regressionRowsSchema } from "./regressionData.ts";
import type { Comparer, Comparers, Report } from "./types.ts";

const numbers = z.array(z.number());
const point = z.object({
  coefficients: z.record(z.string(), z.number()),
  se: numbers,
  theta: z.number(),
  logLikNoFrailtyTerm: z.number(),
  penalisedLogLik: z.number(),
  frailties: numbers,
  marginalLogLik: z.number().optional(),
});
const expectedSchema = z.object({
  gamma: point.extend({
    logLikWithoutFrailty: z.number(),
    lrChiSquareForFrailty: z.number(),
    thetaFromCoxphItself: z.number(),
  }),
  gammaFixedTheta: z.array(point),
  gaussianReml: point.extend({ outerTolerance: z.string() }),
  gaussianFixedTheta: z.array(point),
});
const data = z.object({ rows: regressionRowsSchema, cluster: z.array(z.string()), model: z.string() });

const compareFrailty: Comparer = (one, report) => {
  const { rows, cluster, model } = data.parse(one.data);
  const expected = expectedSchema.parse(one.expected);
  const { terms } = readFormula(model);
  const status = numberColumn(rows, "status");
  const input = {
    rows: hazardRows(
      "as published",
      numberColumn(rows, "time").map((stop, i) => ({ start: 0, stop, failed: status[i] === 1 })),
    ),
    design: designOfCase(rows, terms, planOfCase(rows, terms, terms)),
    clusters: cluster,
  };
  const fit = fitHazardFrailty(input);
  if (fit.maximum !== "found") throw new Error(fit.maximum);
  // Sorted clusters of the file are in the order of numbers, ours of code points.
  const order = [...new Set(cluster)].sort((a, b) => Number(a) - Number(b));
  const gamma = frailtyPartialLikelihood(input, "gamma");
  const normal = frailtyPartialLikelihood(input, "log-normal");
  const compare = (what: string, fits: FrailtyFits, at: FrailtyPoint, value: z.infer<typeof point>): void =>
    comparePoint(report, what, fits, at, value, terms, order);

  report.compare("gamma: theta", fit.frailtyVariance, expected.gamma.theta);
  report.compare("gamma: theta, as the other program stops", fit.frailtyVariance, expected.gamma.thetaFromCoxphItself, {
    tolerance: 1e-4,
  });
  report.compare("gamma: marginal", fit.marginalLogLikelihood, expected.gamma.marginalLogLik ?? null);
  report.compare("gamma: without frailty", fit.withoutSpread.logLikelihood, expected.gamma.logLikWithoutFrailty);
  report.compare("gamma: no frailty term", fit.withoutSpread.nullLogLikelihood, expected.gamma.logLikNoFrailtyTerm);
  report.compare("gamma: spread test", fit.spreadTest.chiSquare, expected.gamma.lrChiSquareForFrailty);
  compare("gamma", gamma, gamma.at(fit.frailtyVariance), expected.gamma);
  for (const value of expected.gammaFixedTheta) compare(`gamma, ${value.theta}`, gamma, gamma.at(value.theta), value);
  for (const value of expected.gaussianFixedTheta) {
    compare(`log-normal, ${value.theta}`, normal, normal.at(value.theta), value);
  }
  const theta = varianceLeavingOut(normal, terms.length);
  report.compare("log-normal: theta", theta, expected.gaussianReml.theta, { tolerance: 1e-4 });
  compare("log-normal", normal, normal.at(expected.gaussianReml.theta), expected.gaussianReml);
};

function comparePoint(
  report: Report,
  what: string,
  fits: FrailtyFits,
  at: FrailtyPoint,
  expected: z.infer<typeof point>,
  names: readonly string[],
  order: readonly string[],
): void {
  report.compare(
    `${what}: coefficients`,
    Object.fromEntries(names.map((name, j) => [name, at.coefficients[j] ?? null])),
    expected.coefficients,
  );
  const m = names.length + fits.tools.length;
  const leftOut = leavingOut(at, names.length);
  report.compare(
    `${what}: se`,
    names.map((_, j) => Math.sqrt(leftOut[j * m + j] ?? Number.NaN)),
    expected.se,
  );
  report.compare(`${what}: log likelihood`, at.logLikelihood, expected.penalisedLogLik);
  report.compare(
    `${what}: frailties`,
    order.map((name) => at.logFrailties[fits.tools.indexOf(name)] ?? null),
    expected.frailties,
    {
      // tests/analysis/practice/hazardFrailty.test.ts: the penalised likelihood is higher at ours.
      disputed: {
        within: 2e-4,
        because: "log frailties near 0, where the reference's own search stopped short of the top",
      },
    },
  );
  if (expected.marginalLogLik !== undefined) {
    report.compare(`${what}: marginal`, marginalLogLikelihood(fits, at), expected.marginalLogLik);
  }
}

/**
 * The inverse information with the second derivatives between different frailties left out, as the reference program does to save
 * time. Ours keeps them: its errors are up to 8 % smaller here.
 */
function leavingOut({ inverse, logFrailties }: FrailtyPoint, columns: number): Float64Array {
  const m = columns + logFrailties.length;
  const information = factorPositive(inverse, m)?.inverse() ?? new Float64Array(m * m);
  for (let a = columns; a < m; a++) for (let b = columns; b < m; b++) if (a !== b) information[a * m + b] = 0;
  return factorPositive(information, m)?.inverse() ?? new Float64Array(m * m);
}

/** Variance v = [sum w^2 + trace of the frailties' covariance] / tools, with that covariance as the reference has it. */
function varianceLeavingOut(fits: FrailtyFits, columns: number): number {
  const m = columns + fits.tools.length;
  let variance = 0.5;
  for (let round = 0; round < 300; round++) {
    const at = fits.at(variance);
    const covariance = leavingOut(at, columns);
    const squares = at.logFrailties.reduce((sum, w, c) => {
      const place = columns + c;
      return sum + w * w + (covariance[place * m + place] ?? Number.NaN);
    }, 0);
    const next = squares / fits.tools.length;
    if (Math.abs(next - variance) < 1e-9) return next;
    variance = next;
  }
  return variance;
}

/** Proportional hazards with a frailty shared by tool. */
export const hazardFrailtyComparers: Comparers = { "proportional-hazards-frailty": compareFrailty };
