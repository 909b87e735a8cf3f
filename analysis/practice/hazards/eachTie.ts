import type { OrderedRows, RiskSet } from "./riskSets.ts";

/** The sums of risk by which a group of tied failures is judged: share l / D of the failed ones left out, `times` over. */
export function eachTie(
  { ties }: OrderedRows,
  { failures }: RiskSet,
  visit: (share: number, times: number) => void,
): void {
  if (ties === "breslow" || failures === 1) visit(0, failures);
  else for (let l = 0; l < failures; l++) visit(l / failures, 1);
}
