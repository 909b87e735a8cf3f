import { AnalysisError } from "../errors.ts";

/** Day numbers worked out before: a derivation asks for the same few thousand dates a hundred times over. */
const days = new Map<string, number>();

/**
 * Day number of a date `YYYY-MM-DD`: days since 1970-01-01 in the Gregorian calendar.
 * Errors  "bad-date" where the text is no such date.
 */
export function dayOf(date: string): number {
  const seen = days.get(date);
  if (seen !== undefined) return seen;
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  if (parts) {
    const [year, month, day] = [Number(parts[1]), Number(parts[2]), Number(parts[3])];
    const time = Date.UTC(year, month - 1, day);
    if (new Date(time).toISOString().slice(0, 10) === date) {
      days.set(date, time / 86_400_000);
      return time / 86_400_000;
    }
  }
  throw new AnalysisError("bad-date", { value: date });
}

/** The date of a day number, `YYYY-MM-DD`. */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}
