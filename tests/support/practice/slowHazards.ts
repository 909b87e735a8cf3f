/** A second log partial likelihood, from its definition: at each failure age, everybody at risk is looked up anew. */
import type { DesignMatrix, HazardRows, Ties } from "../../../analysis/practice/types.ts";

export function slowPartialLikelihood(
  rows: HazardRows,
  design: DesignMatrix,
  ties: Ties,
  strata: readonly string[] | undefined,
  coefficients: readonly number[],
): number {
  const k = design.names.length;
  /** A count of c is c rows. */
  const all = Array.from({ length: rows.n }, (_, i) => i).flatMap((i) =>
    Array.from({ length: rows.count[i] ?? 0 }, () => i),
  );
  const linear = (i: number): number =>
    coefficients.reduce((sum, b, j) => sum + b * (design.values[i * k + j] ?? 0), 0);
  const stratum = (i: number): string => strata?.[i] ?? "";
  let total = 0;
  for (const name of new Set(all.map(stratum))) {
    const own = all.filter((i) => stratum(i) === name);
    const ages = new Set(own.filter((i) => rows.failed[i] === 1).map((i) => rows.stop[i] ?? 0));
    for (const age of ages) {
      const atRisk = own.filter((i) => (rows.start[i] ?? 0) < age && age <= (rows.stop[i] ?? 0));
      const failed = own.filter((i) => rows.failed[i] === 1 && rows.stop[i] === age);
      const risk = atRisk.reduce((sum, i) => sum + Math.exp(linear(i)), 0);
      const failedRisk = failed.reduce((sum, i) => sum + Math.exp(linear(i)), 0);
      failed.forEach((i, l) => {
        const share = ties === "efron" ? l / failed.length : 0;
        total += linear(i) - Math.log(risk - share * failedRisk);
      });
    }
  }
  return total;
}

/** Agreement of the linear predictor with the order of failures, by looking at every pair. */
export function slowConcordance(rows: HazardRows, linear: readonly number[]): number {
  let [agreed, pairs] = [0, 0];
  for (let i = 0; i < rows.n; i++) {
    if (rows.failed[i] !== 1) continue;
    const age = rows.stop[i] ?? 0;
    for (let j = 0; j < rows.n; j++) {
      const stop = rows.stop[j] ?? 0;
      const outlived = (rows.start[j] ?? 0) < age && (stop > age || (stop === age && rows.failed[j] === 0));
      if (!outlived) continue;
      const weight = (rows.count[i] ?? 0) * (rows.count[j] ?? 0);
      const [a, b] = [linear[i] ?? 0, linear[j] ?? 0];
      pairs += weight;
      agreed += weight * (a > b ? 1 : a === b ? 0.5 : 0);
    }
  }
  return agreed / pairs;
}
