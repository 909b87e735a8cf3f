import { AnalysisError } from "../../errors.ts";
import { checkConfidence } from "../../estimation/weibullQuantity.ts";
import { chiSquareQuantile } from "../../numerics/index.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { profileEnd } from "../common/profileEnd.ts";
import type { ProportionalHazardsFound, ProportionalHazardsInput, RatioBounds } from "../types.ts";
import { compileHazards, standardised } from "./compileHazards.ts";

/**
 * Likelihood-ratio bounds of coefficients, by the partial likelihood re-maximised over the others; with a penalty, by the penalised one.
 *
 * @param fit    Fitted to the same `input`.
 * @param names  Columns of the design, all by default.
 * Errors        "bad-setting" for a confidence out of (0, 1) or a name that is no column.
 * Source        Heinze & Schemper (2001), Biometrics 57, 114-119, for the penalised profile.
 */
export function proportionalHazardsBounds(
  fit: ProportionalHazardsFound,
  input: ProportionalHazardsInput,
  {
    confidence = 0.9,
    names = input.design.names,
  }: { readonly confidence?: number; readonly names?: readonly string[] } = {},
): RatioBounds[] {
  checkConfidence(confidence);
  const { standard, surface } = compileHazards(input);
  const at = standardised(fit.coefficients, standard);
  const k = at.length;
  const hessian = new Float64Array(k * k);
  const value = surface.evaluate(at, new Float64Array(k), hessian);
  const inverse = factorPositive(
    hessian.map((one) => -one),
    k,
  )?.inverse();
  if (!inverse)
    throw new AnalysisError("bad-setting", { setting: "fit", value: "no maximum here", allowed: "of this input" });
  const drop = 0.5 * chiSquareQuantile(confidence, 1);
  return names.map((name) => {
    const j = input.design.names.indexOf(name);
    if (j < 0) {
      throw new AnalysisError("bad-setting", {
        setting: "column",
        value: name,
        allowed: input.design.names.join(", "),
      });
    }
    const end = (side: 1 | -1) => profileEnd(surface, { at, value, inverse }, j, drop, side);
    const [lower, upper] = [end(-1), end(1)];
    const range = standard.ranges[j]!;
    return {
      name,
      estimate: fit.coefficients[j]!,
      lower: lower === null ? null : lower / range,
      upper: upper === null ? null : upper / range,
      confidence,
      method: "likelihood ratio",
    };
  });
}
