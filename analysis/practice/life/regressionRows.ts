import { lawFamilies } from "../../distributions/lawFamilies.ts";
import { lawPoint, TEN } from "../../distributions/lawPoint.ts";
import { logAverageBetween } from "../../estimation/logAverageBetween.ts";
import { logProbabilityBetween } from "../../estimation/logProbabilityBetween.ts";
import type { LifeSample } from "../../estimation/types.ts";
import type { RegressionLaw } from "../types.ts";

/** What each life adds to the log likelihood, given its own location mu and the common s = log spread. */
export interface RegressionRows {
  readonly rows: number;
  /** Writes [value, mu, s, mu mu, mu s, s s] of row i, count included. */
  evaluate(row: number, mu: number, s: number, out: Float64Array): void;
}

const EXACT = 0;
const RIGHT = 1;
const INTERVAL = 2;
const RANGED = 3;

/**
 * Compiles a sample: exact log f, right log S, interval log [S(lower) - S(upper)], less log S(entry); ranges averaged over.
 * An exact and a right-censored life cost one call of the standard law; the others go by the quadrature of `estimation`.
 */
export function regressionRows(sample: LifeSample, law: RegressionLaw): RegressionRows {
  const family = lawFamilies[law];
  const { standard } = family;
  const point = lawPoint(family);
  const between = logProbabilityBetween(point);
  const average = logAverageBetween(point, between);
  const { n, lower, lowerHigh, upper, upperHigh, entry, count } = sample;
  const kind = new Uint8Array(n);
  const logAge = new Float64Array(n);
  const logEntry = new Float64Array(n);
  const constant = new Float64Array(n);
  /** Upper end of an interval, or of the range of an exact age. */
  const end = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const isKnown = lower[i] === lowerHigh[i] && upper[i] === upperHigh[i];
    const isExact = lower[i] === upper[i] && lowerHigh[i] === upperHigh[i];
    logEntry[i] = Math.log(entry[i]!);
    end[i] = isExact ? lowerHigh[i]! : upper[i]!;
    if (isKnown && isExact) {
      kind[i] = EXACT;
      logAge[i] = Math.log(lower[i]!);
      constant[i] = -logAge[i]!;
    } else if (isKnown && upper[i] === Number.POSITIVE_INFINITY) {
      kind[i] = RIGHT;
      logAge[i] = Math.log(lower[i]!);
    } else if (isKnown) kind[i] = INTERVAL;
    else if (isExact) {
      kind[i] = INTERVAL;
      constant[i] = -Math.log(lowerHigh[i]! - lower[i]!);
    } else kind[i] = RANGED;
  }
  const six = new Float64Array(6);
  const ten = new Float64Array(TEN);

  /** Adds `weight` times the derivatives in `six` at w = (y - mu) e^-s. */
  const addStandard = (w: number, rate: number, weight: number, out: Float64Array): void => {
    const slope = six[1]!;
    const bend = six[3]!;
    out[0]! += weight * six[0]!;
    out[1]! -= weight * rate * slope;
    out[2]! -= weight * w * slope;
    out[3]! += weight * rate * rate * bend;
    out[4]! += weight * rate * (w * bend + slope);
    out[5]! += weight * w * (w * bend + slope);
  };

  return {
    rows: n,
    evaluate: (i, mu, s, out) => {
      const rate = Math.exp(-s);
      out.fill(0, 0, 6);
      switch (kind[i]) {
        case EXACT: {
          const w = (logAge[i]! - mu) * rate;
          standard.logDensity(w, 0, six);
          addStandard(w, rate, 1, out);
          out[0]! += constant[i]! - s;
          out[2]! -= 1;
          break;
        }
        case RIGHT:
          if (logAge[i]! > Number.NEGATIVE_INFINITY) {
            const w = (logAge[i]! - mu) * rate;
            standard.logSurvival(w, 0, six);
            addStandard(w, rate, 1, out);
          }
          break;
        default: {
          const theta = [mu, s, 0] as const;
          if (kind[i] === INTERVAL) between(lower[i]!, end[i]!, theta, ten);
          else {
            average(
              { lower: lower[i]!, lowerHigh: lowerHigh[i]!, upper: upper[i]!, upperHigh: upperHigh[i]! },
              theta,
              ten,
            );
          }
          out[0] = ten[0]! + constant[i]!;
          out[1] = ten[1]!;
          out[2] = ten[2]!;
          out[3] = ten[4]!;
          out[4] = ten[5]!;
          out[5] = ten[6]!;
        }
      }
      if (entry[i]! > 0) {
        const w = (logEntry[i]! - mu) * rate;
        standard.logSurvival(w, 0, six);
        addStandard(w, rate, -1, out);
      }
      const weight = count[i]!;
      if (weight !== 1) for (let k = 0; k < 6; k++) out[k]! *= weight;
    },
  };
}
