/** A second log likelihood of accelerated-life regression: each life alone, under a law of its own. Slow and obvious. */
import { type LifeLaw, lifeLaw } from "../../../analysis/distributions/lifeLaw.ts";
import type { LifeSample } from "../../../analysis/estimation/types.ts";
import type { DesignMatrix, RegressionLaw } from "../../../analysis/practice/types.ts";
import { slowLawLogLikelihood } from "../estimation/slowLaw.ts";

export function slowLifeRegression(
  sample: LifeSample,
  design: DesignMatrix,
  law: RegressionLaw,
  coefficients: readonly number[],
  spread: number,
): number {
  let sum = 0;
  for (let i = 0; i < sample.n; i++) {
    let mu = coefficients[0] ?? 0;
    design.names.forEach((_, j) => {
      mu += (coefficients[1 + j] ?? 0) * (design.values[i * design.names.length + j] ?? 0);
    });
    const alone = (column: Float64Array): Float64Array => column.slice(i, i + 1);
    const life: LifeSample = {
      unit: sample.unit,
      n: 1,
      lower: alone(sample.lower),
      lowerHigh: alone(sample.lowerHigh),
      upper: alone(sample.upper),
      upperHigh: alone(sample.upperHigh),
      entry: alone(sample.entry),
      count: alone(sample.count),
      ids: null,
    };
    sum += slowLawLogLikelihood(life, lawAt(law, mu, spread));
  }
  return sum;
}

function lawAt(law: RegressionLaw, mu: number, spread: number): LifeLaw {
  switch (law) {
    case "weibull":
      return lifeLaw("weibull", { shape: 1 / spread, scale: Math.exp(mu) });
    case "exponential":
      return lifeLaw("exponential", { scale: Math.exp(mu) });
    case "lognormal":
      return lifeLaw("lognormal", { mu, sigma: spread });
    case "loglogistic":
      return lifeLaw("loglogistic", { shape: 1 / spread, scale: Math.exp(mu) });
  }
}
