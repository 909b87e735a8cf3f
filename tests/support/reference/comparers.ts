import { contingencyComparers } from "./contingency.ts";
import { decisionComparers } from "./decision.ts";
import { functionComparers } from "./functions.ts";
import { hazardFrailtyComparers } from "./hazardFrailty.ts";
import { lifeRegressionComparers } from "./lifeRegression.ts";
import { nonparametricComparers } from "./nonparametric.ts";
import { parametricFitComparers } from "./parametricFit.ts";
import { proportionalHazardsComparers } from "./proportionalHazards.ts";
import { rankRegressionComparers } from "./rankRegression.ts";
import { recurrenceComparers } from "./recurrence.ts";
import type { Comparers } from "./types.ts";
import { weibullFrailtyComparers } from "./weibullFrailty.ts";

/** Every kind of case the runner knows. A new kind is one import and one line here. */
export const comparers: Comparers = {
  ...functionComparers,
  ...nonparametricComparers,
  ...parametricFitComparers,
  ...contingencyComparers,
  ...decisionComparers,
  ...rankRegressionComparers,
  ...lifeRegressionComparers,
  ...recurrenceComparers,
  ...proportionalHazardsComparers,
  ...hazardFrailtyComparers,
  ...weibullFrailtyComparers,
};
