import { type CountRange, formatNumber } from "../../../analysis/index.ts";

/** A count foretold with its range: "11 (6–17)". */
export const ranged = ({ mean, lower, upper }: CountRange): string =>
  `${formatNumber(mean)} (${formatNumber(lower)}–${formatNumber(upper)})`;
