import { AnalysisError } from "../errors.ts";
import { digamma, logGamma } from "../numerics/index.ts";

/** What may be asked of a fitted Weibull law. */
export type WeibullQuantity =
  | { readonly kind: "shape" }
  | { readonly kind: "scale" }
  /** Age by which this fraction has failed, 0 < failedFraction < 1; 0.1 is B10. */
  | { readonly kind: "quantile"; readonly failedFraction: number }
  /** P(T > age), age > 0. */
  | { readonly kind: "survival"; readonly age: number }
  | { readonly kind: "mean" };

/** Refuses a fraction outside (0, 1) and an age that is not above 0 with "bad-setting". */
export function checkQuantity(quantity: WeibullQuantity): void {
  if (quantity.kind === "quantile" && !(quantity.failedFraction > 0 && quantity.failedFraction < 1)) {
    throw new AnalysisError("bad-setting", { setting: "failedFraction", value: String(quantity.failedFraction) });
  }
  if (quantity.kind === "survival" && !(quantity.age > 0 && Number.isFinite(quantity.age))) {
    throw new AnalysisError("bad-setting", { setting: "age", value: String(quantity.age) });
  }
}

/** Refuses a confidence outside (0, 1) with "bad-setting". */
export function checkConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) {
    throw new AnalysisError("bad-setting", { setting: "confidence", value: String(confidence) });
  }
}

/**
 * The quantity on the scale on which its bounds are sought, with its derivatives by (log shape, log scale): the logarithm of shape, scale,
 * quantile and mean; the log cumulative hazard log(-log S) of survival.
 */
export function transformedQuantity(
  quantity: WeibullQuantity,
  { shape, scale }: { readonly shape: number; readonly scale: number },
): { readonly value: number; readonly byLogShape: number; readonly byLogScale: number } {
  switch (quantity.kind) {
    case "shape":
      return { value: Math.log(shape), byLogShape: 1, byLogScale: 0 };
    case "scale":
      return { value: Math.log(scale), byLogShape: 0, byLogScale: 1 };
    case "quantile": {
      const z = Math.log(-Math.log1p(-quantity.failedFraction)) / shape;
      return { value: Math.log(scale) + z, byLogShape: -z, byLogScale: 1 };
    }
    case "survival": {
      const z = shape * (Math.log(quantity.age) - Math.log(scale));
      return { value: z, byLogShape: z, byLogScale: -shape };
    }
    case "mean":
      return {
        value: Math.log(scale) + logGamma(1 + 1 / shape),
        byLogShape: -digamma(1 + 1 / shape) / shape,
        byLogScale: 1,
      };
  }
}

/** Back from the transformed scale. Decreasing for survival. */
export function untransformed(quantity: WeibullQuantity, value: number): number {
  return quantity.kind === "survival" ? Math.exp(-Math.exp(value)) : Math.exp(value);
}

/** The quantity itself, in its own unit. */
export function weibullQuantity(
  quantity: WeibullQuantity,
  parameters: { readonly shape: number; readonly scale: number },
): number {
  checkQuantity(quantity);
  return untransformed(quantity, transformedQuantity(quantity, parameters).value);
}
