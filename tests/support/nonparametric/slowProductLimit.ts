import type { LifeRow } from "./sampleOf.ts";

/** Product-limit by the letter of its definition: at every failure age, count rows one by one. Repeated rows for counts. */
export function slowProductLimit(rows: readonly LifeRow[]): { time: number; atRisk: number; survival: number }[] {
  const single = rows.flatMap((row) => Array.from({ length: row.count ?? 1 }, () => row));
  const times = [...new Set(single.filter((row) => row.upper !== null).map((row) => row.lower))].sort((a, b) => a - b);
  let survival = 1;
  return times.map((time) => {
    const followed = single.filter((row) => (row.entry ?? 0) < time && row.lower >= time);
    const failures = followed.filter((row) => row.upper === time).length;
    survival *= (followed.length - failures) / followed.length;
    return { time, atRisk: followed.length, survival };
  });
}
