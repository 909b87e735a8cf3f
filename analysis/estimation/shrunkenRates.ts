/**
 * Rates drawn towards their common mean, the more the fewer hours stand behind them: for shading only, never quoted.
 * A gamma prior with mean m and variance A is fitted by moments, and each rate is its posterior mean:
 *   m = sum x / sum t,   A = sum t (x/t - m)^2 / sum t - m / (sum t / k),   (x + m^2/A) / (t + m/A)
 *
 * @param rows  Failures x and hours t of the modes of one kind. Rows without hours get the common mean.
 * @returns     Failures per 1,000 h, in the order of the rows. All 0 where nothing failed or nothing ran.
 *
 * Conventions  A <= 0: the rows differ no more than chance, so all get the common mean. Fewer than three rows with hours
 *              cannot show a spread: the prior then has shape 1, worth one failure (own choice, no source).
 * Source       Marshall (1991), Applied Statistics 40, 283-294, the global estimator (from memory).
 */
export function shrunkenRates(rows: readonly { readonly failures: number; readonly hours: number }[]): number[] {
  const seen = rows.filter(({ hours }) => hours > 0);
  const failures = seen.reduce((sum, row) => sum + row.failures, 0);
  const hours = seen.reduce((sum, row) => sum + row.hours, 0);
  if (failures === 0 || hours === 0) return rows.map(() => 0);

  const mean = failures / hours;
  const spread = seen.reduce((sum, row) => sum + row.hours * (row.failures / row.hours - mean) ** 2, 0) / hours;
  const variance = seen.length < 3 ? mean * mean : spread - (mean * seen.length) / hours;
  return rows.map((row) => {
    if (row.hours <= 0 || variance <= 0) return 1000 * mean;
    return (1000 * (row.failures + (mean * mean) / variance)) / (row.hours + mean / variance);
  });
}
