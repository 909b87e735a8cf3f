import { AnalysisError } from "../errors.ts";
import type { LifeSample } from "../estimation/types.ts";
import { normalQuantile } from "../numerics/index.ts";
import { riskTable } from "./riskTable.ts";

export interface CumulativeIncidenceStep {
  readonly time: number;
  readonly atRisk: number;
  /** Fraction with no failure of any mode yet. */
  readonly survival: number;
  /** In the order of `modes`. */
  readonly byMode: readonly {
    readonly failures: number;
    readonly incidence: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
}

export interface CumulativeIncidenceCurve {
  readonly method: "cumulative incidence";
  readonly unit: string;
  readonly confidence: number;
  readonly modes: readonly string[];
  readonly steps: readonly CumulativeIncidenceStep[];
  readonly lastTime: number;
}

/**
 * Fraction that has failed by each mode where one failure ends the life for all:
 *   F_j(t) = sum over failure times u <= t of S(u-) d_j(u) / n(u),  S the product-limit of any failure.
 * The fractions of all modes and S add up to 1; one minus a single mode's product-limit would claim too much.
 *   var F_j(t) = sum (F(t)-F(u))^2 d/(n(n-d)) + sum S(u-)^2 d_j(n-d_j)/n^3 - 2 sum (F(t)-F(u)) S(u-) d_j/n^2
 *
 * @param mode  Mode that ended each life, in the order of the sample; null for a right-censored life.
 * @returns     One step per distinct failure time of any mode, ascending. Modes sorted by name.
 * Conventions  At risk on (entry, exit]. Bounds are taken on the log(-log) scale of 1 - F, so they stay inside (0, 1):
 *              1 - (1 - F)^exp(-/+ z se / ((1 - F) log(1 - F))); F = 0 has bounds 0, F = 1 bounds 1.
 * Errors       "bad-setting" where `mode` has the wrong length or does not go with the censoring;
 *              "unsupported-censoring", "bad-life", "no-lives" as `productLimit`.
 * Accuracy     Cost grows with the square of the number of distinct failure times.
 * Source       Aalen & Johansen (1978), Scand. J. Statist. 5, 141-150; variance: Marubini & Valsecchi (1995), Analysing
 *              Survival Data from Clinical Trials and Observational Studies, equation 10.12 (from memory).
 */
export function cumulativeIncidence(
  sample: LifeSample,
  { mode, confidence = 0.9 }: { readonly mode: readonly (string | null)[]; readonly confidence?: number },
): CumulativeIncidenceCurve {
  const { rows, lastTime } = riskTable(sample, "cumulative incidence");
  checkModes(sample, mode);
  const modes = [...new Set(mode.filter((name) => name !== null))].sort();
  const z = normalQuantile(0.5 + confidence / 2);

  let survival = 1;
  const points = rows.map((row) => {
    const before = survival;
    survival *= 1 - row.failures / row.atRisk;
    const byMode = modes.map((name) =>
      row.failed.reduce((sum, i) => (mode[i] === name ? sum + (sample.count[i] ?? 0) : sum), 0),
    );
    return { ...row, before, survival, byMode };
  });

  const curves = modes.map((_, j) => {
    let incidence = 0;
    const values = points.map((point) => {
      incidence += (point.before * (point.byMode[j] ?? 0)) / point.atRisk;
      return incidence;
    });
    return values.map((value, at) => {
      let variance = 0;
      for (let k = 0; k <= at; k += 1) {
        const point = points[k];
        if (point === undefined) continue;
        const { atRisk: n, failures: d, before } = point;
        const own = point.byMode[j] ?? 0;
        const since = value - (values[k] ?? 0);
        if (n > d) variance += (since * since * d) / (n * (n - d));
        variance += (before * before * own * (n - own)) / n ** 3;
        variance -= (2 * since * before * own) / (n * n);
      }
      const standardError = Math.sqrt(Math.max(0, variance));
      const [lower, upper] = incidenceBounds(value, standardError, z);
      return { failures: points[at]?.byMode[j] ?? 0, incidence: value, standardError, lower, upper };
    });
  });

  return {
    method: "cumulative incidence",
    unit: sample.unit,
    confidence,
    modes,
    lastTime,
    steps: points.map(({ time, atRisk, survival: surviving }, at) => ({
      time,
      atRisk,
      survival: surviving,
      byMode: curves.flatMap((curve) => curve[at] ?? []),
    })),
  };
}

function incidenceBounds(value: number, standardError: number, z: number): readonly [number, number] {
  if (value <= 0) return [0, 0];
  const rest = 1 - value;
  if (rest <= 0) return [1, 1];
  const logRest = Math.log(rest);
  const ratio = (z * standardError) / (rest * -logRest);
  return [1 - Math.exp(logRest * Math.exp(-ratio)), 1 - Math.exp(logRest * Math.exp(ratio))];
}

function checkModes(sample: LifeSample, mode: readonly (string | null)[]): void {
  if (mode.length !== sample.n) {
    throw new AnalysisError("bad-setting", {
      setting: "mode",
      value: mode.length,
      allowed: `one entry a life (${sample.n})`,
    });
  }
  for (const [i, name] of mode.entries()) {
    const failed = sample.lower[i] === sample.upper[i];
    if (failed !== (name !== null)) {
      throw new AnalysisError("bad-setting", {
        setting: `mode of life ${sample.ids?.[i] ?? i + 1}`,
        value: name,
        allowed: failed ? "the mode it failed by" : "none: it did not fail",
      });
    }
  }
}
