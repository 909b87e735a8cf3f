import { AnalysisError } from "../../errors.ts";
import { checkDesign } from "../common/checkDesign.ts";
import { type StandardDesign, standardiseDesign } from "../common/standardiseDesign.ts";
import type { ProportionalHazardsInput } from "../types.ts";
import { type PartialLikelihood, partialLikelihood } from "./partialLikelihood.ts";
import { type OrderedRows, orderRows } from "./riskSets.ts";

export interface CompiledHazards {
  readonly standard: StandardDesign;
  readonly ordered: OrderedRows;
  readonly surface: PartialLikelihood;
  /** What the bias-reducing penalty gains by going from standardised columns to the columns as they are. */
  readonly penaltyShift: number;
}

/**
 * Orders and standardises what a fit, its bounds and its residuals work on.
 *
 * Errors  "bad-setting" where design, clusters, strata or penalty do not fit the rows.
 */
export function compileHazards({
  rows,
  design,
  ties,
  strata,
  clusters,
  penalty,
}: ProportionalHazardsInput): CompiledHazards {
  checkDesign(design, rows.n, clusters);
  if (strata && strata.length !== rows.n) {
    throw new AnalysisError("bad-setting", {
      setting: "strata",
      value: strata.length,
      allowed: `one a row (${rows.n})`,
    });
  }
  if (typeof penalty === "object" && !(penalty.deviation > 0 && Number.isFinite(penalty.deviation))) {
    throw new AnalysisError("bad-setting", {
      setting: "penalty deviation",
      value: String(penalty.deviation),
      allowed: "above 0",
    });
  }
  const standard = standardiseDesign(design, rows.count);
  const ordered = orderRows(rows, standard, ties ?? "efron", strata);
  const precision = Float64Array.from(standard.deviations, (deviation) =>
    typeof penalty === "object" ? (deviation / penalty.deviation) ** 2 : 0,
  );
  const isBiasReducing = penalty === "bias-reducing";
  const surface = partialLikelihood(ordered, penalty ? { precision, isBiasReducing } : null);
  const penaltyShift = isBiasReducing ? standard.ranges.reduce((sum, range) => sum + Math.log(range), 0) : 0;
  return { standard, ordered, surface, penaltyShift };
}

/** Coefficients of the columns as they are, to those of the standardised columns. */
export function standardised(coefficients: readonly number[], { ranges }: StandardDesign): number[] {
  return coefficients.map((b, j) => b * ranges[j]!);
}
