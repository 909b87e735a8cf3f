/** Build practice: what in the build makes a difference. Comparisons of groups, designs, regressions. */

export { waldCoefficients } from "./common/waldCoefficients.ts";
export { adjustPValues, type PAdjustment } from "./comparisons/adjustPValues.ts";
export { type BinomialInterval, binomialInterval } from "./comparisons/binomialInterval.ts";
export type { ConditionalOddsRatio } from "./comparisons/conditionalOddsRatio.ts";
export { type Correlation, correlation } from "./comparisons/correlation.ts";
export { type FalseCoverage, falseCoverage } from "./comparisons/falseCoverage.ts";
export { type ManySampleRank, manySampleRank } from "./comparisons/manySampleRank.ts";
export { type TrendInProportions, trendInProportions } from "./comparisons/trendInProportions.ts";
export { type TwoSampleRank, twoSampleRank } from "./comparisons/twoSampleRank.ts";
export { type TwoByTwo, type TwoWayTable, twoWayTable } from "./comparisons/twoWayTable.ts";
export { designMatrix } from "./design/designMatrix.ts";
export { type PlannedTerm, planDesign, type TermWanted, type Variable } from "./design/planDesign.ts";
export { type BaselineHazard, baselineHazard } from "./hazards/baselineHazard.ts";
export { type ExposedLife, type ExposureRows, exposureRows } from "./hazards/exposureRows.ts";
export type { TimeScale } from "./hazards/failureScores.ts";
export {
  fitHazardFrailty,
  type HazardFrailty,
  type HazardFrailtyFound,
  type HazardFrailtyInput,
} from "./hazards/fitHazardFrailty.ts";
export {
  fitPiecewiseHazard,
  type PiecewiseHazard,
  type PiecewiseHazardFound,
  type PiecewiseHazardInput,
} from "./hazards/fitPiecewiseHazard.ts";
export { fitProportionalHazards } from "./hazards/fitProportionalHazards.ts";
export { type HazardConcordance, hazardConcordance } from "./hazards/hazardConcordance.ts";
export { type HazardResiduals, hazardResiduals } from "./hazards/hazardResiduals.ts";
export { type HazardRowInput, hazardRows, hazardRowsOfLives } from "./hazards/hazardRows.ts";
export { proportionalHazardsBounds } from "./hazards/proportionalHazardsBounds.ts";
export { type ProportionalityTest, proportionalityTest } from "./hazards/proportionalityTest.ts";
export { fitLifeRegression } from "./life/fitLifeRegression.ts";
export {
  fitWeibullFrailty,
  type WeibullFrailty,
  type WeibullFrailtyFound,
  type WeibullFrailtyInput,
} from "./life/fitWeibullFrailty.ts";
export { type LifeQuantile, lifeQuantile } from "./life/lifeQuantile.ts";
export { lifeRegressionBounds } from "./life/lifeRegressionBounds.ts";
export type { AssumedLives } from "./power/drawLives.ts";
export { type Power, type PowerInput, powerBySimulation } from "./power/powerBySimulation.ts";
export * from "./types.ts";
