import { z } from "zod";
import * as numerics from "../../../analysis/numerics/index.ts";
import type { Comparers } from "./types.ts";

const functions: Readonly<Record<string, (...values: number[]) => number>> = {
  gamma: (x = Number.NaN) => numerics.gamma(x),
  "lgamma (log of absolute value)": (x = Number.NaN) => numerics.logGamma(x),
  "lgamma near its zeros 1 and 2": (x = Number.NaN) => numerics.logGamma(x),
  digamma: (x = Number.NaN) => numerics.digamma(x),
  trigamma: (x = Number.NaN) => numerics.trigamma(x),
  beta: (a = Number.NaN, b = Number.NaN) => numerics.beta(a, b),
  lbeta: (a = Number.NaN, b = Number.NaN) => numerics.logBeta(a, b),
  "regularized lower incomplete gamma P(a, x)": (a = Number.NaN, x = Number.NaN) => numerics.regularizedGammaP(a, x),
  "regularized upper incomplete gamma Q(a, x)": (a = Number.NaN, x = Number.NaN) => numerics.regularizedGammaQ(a, x),
  "inverse of P(a, x) in x": (a = Number.NaN, p = Number.NaN) => numerics.inverseGammaP(a, p),
  "inverse of Q(a, x) in x, upper tail": (a = Number.NaN, q = Number.NaN) => numerics.inverseGammaQ(a, q),
  "regularized incomplete beta I_x(a, b)": (a = Number.NaN, b = Number.NaN, x = Number.NaN) =>
    numerics.regularizedBeta(a, b, x),
  "inverse incomplete beta": (a = Number.NaN, b = Number.NaN, p = Number.NaN) => numerics.inverseBeta(a, b, p),
  "normal cdf": (x = Number.NaN) => numerics.normalCdf(x),
  "normal log upper tail": (x = Number.NaN) => numerics.normalLogUpperTail(x),
  "normal quantile": (p = Number.NaN) => numerics.normalQuantile(p),
  "chi-square cdf": (x = Number.NaN, df = Number.NaN) => numerics.chiSquareCdf(x, df),
  "chi-square upper tail": (x = Number.NaN, df = Number.NaN) => numerics.chiSquareUpperTail(x, df),
  "chi-square quantile": (p = Number.NaN, df = Number.NaN) => numerics.chiSquareQuantile(p, df),
  "t cdf": (x = Number.NaN, df = Number.NaN) => numerics.studentCdf(x, df),
  "t quantile": (p = Number.NaN, df = Number.NaN) => numerics.studentQuantile(p, df),
  "noncentral t cdf": (x = Number.NaN, df = Number.NaN, delta = Number.NaN) =>
    numerics.noncentralStudentCdf(x, df, delta),
  "noncentral t quantile": (p = Number.NaN, df = Number.NaN, delta = Number.NaN) =>
    numerics.noncentralStudentQuantile(p, df, delta),
  "F upper tail": (x = Number.NaN, df1 = Number.NaN, df2 = Number.NaN) => numerics.fUpperTail(x, df1, df2),
  "F quantile": (p = Number.NaN, df1 = Number.NaN, df2 = Number.NaN) => numerics.fQuantile(p, df1, df2),
  "Poisson cdf": (k = Number.NaN, mu = Number.NaN) => numerics.poissonCdf(k, mu),
  "studentized range cdf": (q = Number.NaN, groups = Number.NaN, df = Number.NaN) =>
    numerics.studentizedRangeCdf(q, groups, df),
  "binomial cdf": (k = Number.NaN, n = Number.NaN, p = Number.NaN) => numerics.binomialCdf(k, n, p),
};

const data = z.object({ argumentNames: z.array(z.string()), arguments: z.array(z.array(z.number())) });
const expected = z.object({ values: z.array(z.number()) });

/** Special functions. Every value is compared relatively: the digits of a far tail count. */
export const functionComparers: Comparers = {
  function: (one, report) => {
    const { arguments: points } = data.parse(one.data);
    const { values } = expected.parse(one.expected);
    const compute = functions[one.name];
    if (!compute) {
      report.notCovered(one.name, values.length);
      return;
    }
    report.compare(
      one.name,
      points.map((point) => compute(...point)),
      values,
      { relativeOnly: true },
    );
  },
};
