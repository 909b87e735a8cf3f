import { normalCdf, normalQuantile } from "../../numerics/index.ts";
import { fitPiecewiseHazard } from "../../practice/hazards/fitPiecewiseHazard.ts";
import type { LifeMultiplier } from "../../practice/screen/lifeMultiplier.ts";
import type { Compared } from "./comparePractice.ts";
import type { Contrast } from "./contrasts.ts";
import { designOf, sampleOfRows } from "./livesAlike.ts";
import type { ModeTable } from "./modeTable.ts";

/**
 * The same comparison by proportional hazards, the hazard constant within pieces of age: it assumes nothing of the law of life.
 * A hazard r times as high is a life r^(-spread) times as long, with the spread of the Weibull fit beside which it stands.
 *
 * @returns  Wald bounds, widened by tool as the Weibull fit's are; null where either has no maximum.
 */
export function hazardInPieces(
  table: ModeTable,
  { rows: kept, values, at, against }: Contrast,
  { adjusted, entanglement }: Compared,
  confidence: number,
): LifeMultiplier | null {
  const columns = [{ name: "practice", values }, ...(entanglement.expected ? [entanglement.expected] : [])];
  const weibull = table.fitterOf(kept)?.(columns);
  if (adjusted === null || !weibull) return null;
  const rows = kept.map((row) => table.rows[row]!);
  const fit = fitPiecewiseHazard({ sample: sampleOfRows(rows), design: designOf(columns, rows.length) });
  if (fit.maximum !== "found") return null;
  const place = fit.covariance.names.indexOf("practice");
  const variance = fit.covariance.matrix[place]?.[place];
  if (variance === undefined || !(variance > 0)) return null;
  const wider = Math.max(1, weibull.errorsByTool[0]! / weibull.errors[0]!);
  const step = -adjusted.spread * (at - against);
  const middle = fit.coefficients[0]! * step;
  const reach = Math.abs(normalQuantile((1 + confidence) / 2) * wider * Math.sqrt(variance) * step);
  const z = Math.abs(fit.coefficients[0]!) / (wider * Math.sqrt(variance));
  return {
    value: Math.exp(middle),
    lower: Math.exp(middle - reach),
    upper: Math.exp(middle + reach),
    confidence,
    pValue: 2 * normalCdf(-z),
  };
}
