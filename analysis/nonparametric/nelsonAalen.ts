import type { LifeSample } from "../estimation/types.ts";
import { normalQuantile } from "../numerics/index.ts";
import { riskTable } from "./riskTable.ts";

export interface CumulativeHazardStep {
  readonly time: number;
  readonly atRisk: number;
  readonly failures: number;
  readonly cumulativeHazard: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  /** The same with tied failures taken one after the other: adds 1/n + 1/(n-1) + ... (Fleming & Harrington). */
  readonly oneByOne: number;
}

export interface CumulativeHazardCurve {
  readonly method: "Nelson-Aalen";
  readonly unit: string;
  readonly confidence: number;
  readonly fromAge: number;
  readonly steps: readonly CumulativeHazardStep[];
  readonly lastTime: number;
}

/**
 * Nelson-Aalen estimate of the cumulative hazard:
 *   H(t) = sum over failure times u <= t of failures(u) / atRisk(u),  var H = sum failures / atRisk^2
 * with bounds on the log scale, H exp(-/+ z se / H).
 *
 * @param sample  Exact and right-censored lives in any order, with late entry and counts; n >= 1.
 * @returns       One step per distinct failure time, ascending; no steps if nothing failed.
 * Conventions    As `productLimit`.
 * Errors         "unsupported-censoring" for a left-, interval-censored or ranged life; "bad-life"; "no-lives".
 * Source         Nelson (1972), Technometrics 14, 945-966; Aalen (1978), Ann. Statist. 6, 701-726;
 *                ties: Fleming & Harrington (1984), Comm. Statist. A 13, 2469-2486.
 */
export function nelsonAalen(
  sample: LifeSample,
  { confidence = 0.9, fromAge = 0 }: { readonly confidence?: number; readonly fromAge?: number } = {},
): CumulativeHazardCurve {
  const table = riskTable(sample, "Nelson-Aalen", { fromAge });
  const z = normalQuantile(0.5 + confidence / 2);
  let cumulativeHazard = 0;
  let variance = 0;
  let oneByOne = 0;
  const steps = table.rows.map(({ time, atRisk, failures }): CumulativeHazardStep => {
    cumulativeHazard += failures / atRisk;
    variance += failures / (atRisk * atRisk);
    for (let done = 0; done < failures; done += 1) oneByOne += Math.min(1, failures - done) / (atRisk - done);
    const standardError = Math.sqrt(variance);
    const factor = Math.exp((z * standardError) / cumulativeHazard);
    return {
      time,
      atRisk,
      failures,
      cumulativeHazard,
      standardError,
      lower: cumulativeHazard / factor,
      upper: cumulativeHazard * factor,
      oneByOne,
    };
  });
  return { method: "Nelson-Aalen", unit: sample.unit, confidence, fromAge, steps, lastTime: table.lastTime };
}
