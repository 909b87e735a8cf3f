/** Words for results, notices, problems and errors: the one place where codes and numbers become sentences. */
export { formatAge, formatHours } from "./formatAge.ts";
export { formatDate, formatPeriod } from "./formatDate.ts";
export { formatBounds, formatConfidence, formatEstimate } from "./formatEstimate.ts";
export { formatExact, formatNumber } from "./formatNumber.ts";
export { formatSize } from "./formatSize.ts";
export { sayScope } from "./sayScope.ts";
