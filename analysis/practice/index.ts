/** Build practice: what in the build makes a difference. Comparisons of groups, designs, regressions. */

export { waldCoefficients } from "./common/waldCoefficients.ts";
export { adjustPValues, type PAdjustment } from "./comparisons/adjustPValues.ts";
export { type BinomialInterval, binomialInterval } from "./comparisons/binomialInterval.ts";
export type { ConditionalOddsRatio } from "./comparisons/conditionalOddsRatio.ts";
export { type Correlation, correlation } from "./comparisons/correlation.ts";
export { type ManySampleRank, manySampleRank } from "./comparisons/manySampleRank.ts";
export { type TrendInProportions, trendInProportions } from "./comparisons/trendInProportions.ts";
export { type TwoSampleRank, twoSampleRank } from "./comparisons/twoSampleRank.ts";
export { type TwoByTwo, type TwoWayTable, twoWayTable } from "./comparisons/twoWayTable.ts";
export { designMatrix } from "./design/designMatrix.ts";
export { type PlannedTerm, planDesign, type TermWanted, type Variable } from "./design/planDesign.ts";
export { fitLifeRegression } from "./life/fitLifeRegression.ts";
export { type LifeQuantile, lifeQuantile } from "./life/lifeQuantile.ts";
export { lifeRegressionBounds } from "./life/lifeRegressionBounds.ts";
export * from "./types.ts";
