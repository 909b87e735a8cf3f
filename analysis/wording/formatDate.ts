const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** "2024-03-05" as "5 Mar 2024": no order of day and month to mistake. null is "not known"; other text stays. */
export function formatDate(date: string | null): string {
  if (date === null) return "not known";
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})/.exec(date) ?? [];
  const name = months[Number(month) - 1];
  return year === undefined || name === undefined ? date : `${Number(day)} ${name} ${year}`;
}

/** "2024–2026" where both ends are whole years, else the dates in words. Null where neither end is given. */
export function formatPeriod(from: string | null, to: string | null): string | null {
  if (from === null && to === null) return null;
  const startsYear = from === null || from.endsWith("-01-01");
  const endsYear = to === null || to.endsWith("-12-31");
  const [first, last] = [from?.slice(0, 4), to?.slice(0, 4)];
  if (from === null) return endsYear ? `until the end of ${last}` : `until ${formatDate(to)}`;
  if (to === null) return startsYear ? `since ${first}` : `since ${formatDate(from)}`;
  if (startsYear && endsYear) return first === last ? `${first}` : `${first}–${last}`;
  return from === to ? formatDate(from) : `${formatDate(from)} to ${formatDate(to)}`;
}
