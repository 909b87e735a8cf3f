import { median, quantile } from "simple-statistics";
import type { PastRedress } from "./redressPractice.ts";
import type { PlannedAges } from "./sinceDecidedTypes.ts";

/** Hours run since the redress before, at the planned ones; null where there were none. */
export function plannedAges(redresses: readonly PastRedress[]): PlannedAges | null {
  const hours = redresses.filter(({ redress }) => redress.reason === "planned").map((one) => one.hours);
  if (hours.length === 0) return null;
  return {
    planned: hours.length,
    quarter: quantile(hours, 0.25),
    middle: median(hours),
    threeQuarters: quantile(hours, 0.75),
  };
}
