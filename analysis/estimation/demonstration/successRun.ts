import { AnalysisError } from "../../errors.ts";
import { binomialCdf, inverseBeta } from "../../numerics/index.ts";
import { checkConfidence } from "../weibullQuantity.ts";

/**
 * Lower one-sided bound of the reliability to an age, when n items were followed to it and some failed before.
 *   no failures   R = (1 - confidence)^(1 / n)
 *   r failures    the R with P(N <= r) = 1 - confidence for N ~ binomial(n, 1 - R): a beta quantile
 *
 * @param items     n >= 1, whole.
 * @param failures  0 <= r <= n, whole; with r = n the bound is 0.
 * Errors           "bad-setting".
 * Source           Clopper & Pearson (1934), Biometrika 26, 404-413; Nelson (1982), Applied Life Data Analysis, ch. 6.
 */
export function successRunBound(items: number, failures: number, confidence: number): number {
  checkConfidence(confidence);
  checkWhole("items", items, 1);
  checkWhole("failures", failures, 0);
  if (failures > items) throw new AnalysisError("bad-setting", { setting: "failures", value: failures, items });
  if (failures === items) return 0;
  return failures === 0
    ? Math.exp(Math.log1p(-confidence) / items)
    : inverseBeta(items - failures, failures + 1, 1 - confidence);
}

/** Not rounded: log(1 - confidence) / log(reliability), the number of items that must survive. */
export function exactSuccessRun(reliability: number, confidence: number): number {
  checkConfidence(confidence);
  checkReliability(reliability);
  return Math.log1p(-confidence) / Math.log(reliability);
}

/**
 * Smallest number of items that shows a reliability with a confidence, when up to `failures` of them may fail.
 *
 * Conventions  P(N <= failures) <= 1 - confidence at that reliability, with a rounding error of 1e-12 forgiven (so that
 *              one item shows R = 0.5 with 50 % confidence).
 * Errors       "bad-setting".
 */
export function successRunSize(reliability: number, confidence: number, failures = 0): number {
  checkConfidence(confidence);
  checkReliability(reliability);
  checkWhole("failures", failures, 0);
  const shows = (items: number): boolean =>
    binomialCdf(failures, items, 1 - reliability) <= (1 - confidence) * (1 + 1e-12);
  let high = failures + 1;
  while (!shows(high)) high *= 2;
  let low = failures;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (shows(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function checkReliability(reliability: number): void {
  if (!(reliability > 0 && reliability < 1)) {
    throw new AnalysisError("bad-setting", { setting: "reliability", value: String(reliability) });
  }
}

function checkWhole(setting: string, value: number, least: number): void {
  if (!(Number.isInteger(value) && value >= least)) {
    throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
}
