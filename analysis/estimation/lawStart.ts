import type { LawFamily, Theta } from "../distributions/lawFamilies.ts";
import { fitWeibull } from "./fitWeibull.ts";
import type { LifeSample } from "./types.ts";
import { typicalFailureAge } from "./weibullLikelihood.ts";

/**
 * Where the search for a law's maximum begins: the law with the same 20 % and 63 % ages as the fitted Weibull law, or, where
 * that has no maximum, with the mean and deviation of the failures' ages.
 */
export function lawStart(sample: LifeSample, family: LawFamily): Theta {
  const weibull = fitWeibull(sample);
  let center: number;
  let deviation: number;
  if (weibull.maximum === "found") {
    center = Math.log(weibull.scale);
    deviation = 1 / weibull.shape;
  } else [center, deviation] = momentsOfLogAges(sample);
  // Of W with P(W > w) = exp(-e^w): w = -1.5 at 20 %, 0 at 63.2 %.
  const [early, late] = [center - 1.5 * deviation, center];
  switch (family.name) {
    case "exponential":
      return [late, 0, 0];
    case "weibull":
    case "three-parameter weibull":
      return [late, Math.log(deviation), 0];
    case "lognormal":
    case "generalised gamma": {
      // Normal quantiles -0.842 and 0.337.
      const sigma = (late - early) / 1.179;
      return [late - 0.337 * sigma, Math.log(sigma), 0];
    }
    case "loglogistic": {
      // Logistic quantiles -1.386 and 0.541.
      const sigma = (late - early) / 1.927;
      return [late - 0.541 * sigma, Math.log(sigma), 0];
    }
    case "gamma": {
      const logShape = Math.max(-3, Math.min(12, -2 * Math.log(deviation)));
      return [late - logShape, 0, logShape];
    }
    case "normal": {
      const sigma = (Math.exp(late) - Math.exp(early)) / 1.179;
      return [Math.exp(late) - 0.337 * sigma, Math.log(sigma), 0];
    }
    case "smallest extreme value":
      return [Math.exp(late), Math.log((Math.exp(late) - Math.exp(early)) / 1.5), 0];
  }
}

function momentsOfLogAges(sample: LifeSample): [mean: number, deviation: number] {
  let total = 0;
  let sum = 0;
  let squares = 0;
  for (let row = 0; row < sample.n; row++) {
    const age = typicalFailureAge(sample, row);
    if (age === null || age <= 0) continue;
    total += sample.count[row]!;
    sum += sample.count[row]! * Math.log(age);
    squares += sample.count[row]! * Math.log(age) ** 2;
  }
  if (total === 0) return [0, 1];
  const mean = sum / total;
  const deviation = Math.sqrt(Math.max(0, squares / total - mean * mean));
  return [mean, deviation > 1e-6 ? deviation : 0.5];
}
