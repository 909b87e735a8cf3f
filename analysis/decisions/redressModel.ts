/** What a redress interval is worked out from: laws of the modes that a redress restores, and what they cost. */
import type { WeibullParameters } from "../distributions/weibull.ts";

/**
 * How one mode, or a defect with the failure it leads to, acts between two redresses. Ages since the last one.
 *   evident  stops the job when it comes
 *   hidden   waits until the tool is opened
 *   linked   a hidden defect that, a delay later, has become a failure that stops the job (a delay-time model)
 * A constant rate is a shape of 1; a rate of 0 a scale of Infinity.
 */
export type ModeLaw =
  | { readonly kind: "evident"; readonly life: WeibullParameters }
  | { readonly kind: "hidden"; readonly life: WeibullParameters }
  | { readonly kind: "linked"; readonly defect: WeibullParameters; readonly delay: WeibullParameters };

export interface ModeCosts {
  /** A failure that stops the job, the redress after it included. Not used for a hidden mode. */
  readonly stops: number;
  /** What a defect or failure found in the shop adds to the redress. */
  readonly found: number;
}

export interface RedressCosts {
  /** A planned redress that finds nothing. */
  readonly planned: number;
  /** In the order of the modes. */
  readonly modes: readonly ModeCosts[];
}
