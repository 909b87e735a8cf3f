/** Days counted from 1970-01-01, and back to `YYYY-MM-DD`. */
export const dayOf = (date: string): number => Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);

const known = new Map<number, string>();

export function dateOf(day: number): string {
  let date = known.get(day);
  if (date === undefined) {
    date = new Date(day * 86_400_000).toISOString().slice(0, 10);
    known.set(day, date);
  }
  return date;
}
