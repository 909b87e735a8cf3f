import type { WhatFailsResult } from "../study/types.ts";

type Period = WhatFailsResult["periods"][number];

/** The last period with hours beside the first: above or below it where their bounds do not meet. Null with fewer than two. */
export function comparePeriods(
  periods: readonly Period[],
): { readonly first: Period; readonly last: Period; readonly rather: "higher" | "lower" | null } | null {
  const followed = periods.filter(({ rate }) => rate.value !== null);
  const [first, last] = [followed[0], followed[followed.length - 1]];
  if (first === undefined || last === undefined || first === last) return null;
  const [a, b] = [first.rate, last.rate];
  const above = (low: number | null, high: number | null): boolean => low !== null && high !== null && low > high;
  return { first, last, rather: above(b.lower, a.upper) ? "higher" : above(a.lower, b.upper) ? "lower" : null };
}
