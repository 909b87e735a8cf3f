const known = new Map<string, number>();

/**
 * Day number of a date `YYYY-MM-DD`, days since 1970-01-01. NaN for anything else: an audit doubts records, it does not
 * refuse them, and no comparison with NaN holds.
 */
export function dayNumber(date: string | null | undefined): number {
  if (date == null) return Number.NaN;
  let day = known.get(date);
  if (day === undefined) {
    const time = /^\d{4}-\d{2}-\d{2}$/.test(date) ? Date.parse(`${date}T00:00:00Z`) : Number.NaN;
    // Parsing takes 31 February for 2 March; reading it back does not.
    const real = !Number.isNaN(time) && new Date(time).toISOString().startsWith(date);
    day = real ? time / 86_400_000 : Number.NaN;
    known.set(date, day);
  }
  return day;
}
