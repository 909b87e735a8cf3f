/**
 * Covariance that holds where rows of one cluster are alike: V B V with V the inverse information and
 * B the sum over clusters of u u', u the sum of the scores of its rows. No small-sample factor.
 *
 * @param scores    rows x m, counts included.
 * @param inverse   m x m.
 * @returns         m x m, and the number of clusters.
 * Source           White (1982), Econometrica 50, 1-25; Lin & Wei (1989), J. Amer. Statist. Assoc. 84, 1074-1078.
 */
export function clusterSandwich(
  scores: Float64Array,
  inverse: Float64Array,
  clusters: readonly string[],
): { readonly covariance: Float64Array; readonly clusters: number } {
  const m = Math.round(Math.sqrt(inverse.length));
  const sums = new Map<string, Float64Array>();
  clusters.forEach((cluster, i) => {
    let sum = sums.get(cluster);
    if (!sum) {
      sum = new Float64Array(m);
      sums.set(cluster, sum);
    }
    for (let a = 0; a < m; a++) sum[a]! += scores[i * m + a]!;
  });
  const covariance = new Float64Array(m * m);
  const influence = new Float64Array(m);
  for (const sum of sums.values()) {
    for (let a = 0; a < m; a++) {
      let value = 0;
      for (let b = 0; b < m; b++) value += inverse[a * m + b]! * sum[b]!;
      influence[a] = value;
    }
    for (let a = 0; a < m; a++) {
      for (let b = 0; b < m; b++) covariance[a * m + b]! += influence[a]! * influence[b]!;
    }
  }
  return { covariance, clusters: sums.size };
}
