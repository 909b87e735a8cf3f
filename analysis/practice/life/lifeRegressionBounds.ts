import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { chiSquareQuantile } from "../../numerics/index.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { profileEnd } from "../common/profileEnd.ts";
import { standardiseDesign } from "../common/standardiseDesign.ts";
import type { LifeRegressionFound, LifeRegressionInput, RatioBounds } from "../types.ts";
import { regressionRows } from "./regressionRows.ts";
import { regressionSurface } from "./regressionSurface.ts";

/**
 * Likelihood-ratio bounds of coefficients: where twice the drop of the log likelihood, re-maximised with the coefficient held
 * there, is the chi-square quantile with one degree of freedom. With a penalty, of the penalised log likelihood.
 *
 * @param fit    Fitted to the same `input`.
 * @param names  Columns of the design, all by default.
 * Errors        "bad-setting" for a confidence out of (0, 1) or a name that is no column.
 * Source        Lawless (2003), section 6.3.
 */
export function lifeRegressionBounds(
  fit: LifeRegressionFound,
  input: LifeRegressionInput,
  {
    confidence = 0.9,
    names = input.design.names,
  }: { readonly confidence?: number; readonly names?: readonly string[] } = {},
): RatioBounds[] {
  checkConfidence(confidence);
  const { sample, design, law, penalty = null } = input;
  const standard = standardiseDesign(design, sample.count);
  const surface = regressionSurface(regressionRows(sample, law), standard, law, penalty);
  const at = [
    fit.coefficients.reduce((sum, b, j) => sum + (j === 0 ? b : b * standard.means[j - 1]!), 0),
    ...fit.coefficients.slice(1).map((b, j) => b * standard.ranges[j]!),
    ...(law === "exponential" ? [] : [Math.log(fit.spread)]),
  ];
  const m = surface.dimension;
  const hessian = new Float64Array(m * m);
  const value = surface.evaluate(at, new Float64Array(m), hessian);
  const inverse = factorPositive(
    hessian.map((one) => -one),
    m,
  )?.inverse();
  if (!inverse)
    throw new AnalysisError("bad-setting", { setting: "fit", value: "no maximum here", allowed: "of this input" });
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  return names.map((name) => {
    const j = design.names.indexOf(name);
    if (j < 0)
      throw new AnalysisError("bad-setting", { setting: "column", value: name, allowed: design.names.join(", ") });
    const end = (side: 1 | -1) => profileEnd(surface, { at, value, inverse }, 1 + j, drop, side);
    const [lower, upper] = [end(-1), end(1)];
    const range = standard.ranges[j]!;
    return {
      name,
      estimate: fit.coefficients[1 + j]!,
      lower: lower === null ? null : lower / range,
      upper: upper === null ? null : upper / range,
      confidence,
      method: "likelihood ratio",
    };
  });
}
