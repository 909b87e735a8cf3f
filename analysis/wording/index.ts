/** Words for results, notices, problems and errors: the one place where codes and numbers become sentences. */
export { formatAge, formatHours } from "./formatAge.ts";
export { formatDate, formatPeriod } from "./formatDate.ts";
export { formatBounds, formatConfidence, formatEstimate } from "./formatEstimate.ts";
export { formatExact, formatNumber } from "./formatNumber.ts";
export { formatSize } from "./formatSize.ts";
export { type NoticeFactNames, noticeFacts } from "./noticeFacts.ts";
export { sayAnswer } from "./sayAnswer.ts";
export { type CautionKind, sayCautions } from "./sayCautions.ts";
export { sayError } from "./sayError.ts";
export { sayNotice } from "./sayNotice.ts";
export { sayOrigin, sayProblem } from "./sayProblem.ts";
export { sayScope } from "./sayScope.ts";
