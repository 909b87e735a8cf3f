/** Nonparametric estimates: step curves and tests that assume no distribution. */
export { atMiddleOfRanges, type CensoringKind, censoringOf } from "./censoring.ts";
export { type CumulativeIncidenceCurve, cumulativeIncidence } from "./cumulativeIncidence.ts";
export type { EarlySmallRiskSet } from "./earlyRiskSet.ts";
export { type LogRankResult, logRank } from "./logRank.ts";
export { type CumulativeHazardCurve, nelsonAalen } from "./nelsonAalen.ts";
export { type PlottingPosition, probabilityPlot } from "./probabilityPlot.ts";
export { type ProductLimitCurve, type ProductLimitStep, productLimit } from "./productLimit.ts";
export { type RestrictedMean, restrictedMean } from "./restrictedMean.ts";
export type { BoundsMethod } from "./survivalBounds.ts";
export { type SurvivalQuantile, survivalQuantile } from "./survivalQuantile.ts";
export { type TurnbullCurve, type TurnbullInterval, turnbull } from "./turnbull.ts";
