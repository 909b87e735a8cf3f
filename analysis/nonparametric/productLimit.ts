import type { LifeSample } from "../estimation/types.ts";
import { normalQuantile } from "../numerics/index.ts";
import { type EarlySmallRiskSet, findEarlySmallRiskSet } from "./earlyRiskSet.ts";
import { riskTable } from "./riskTable.ts";
import { type BoundsMethod, survivalBounds } from "./survivalBounds.ts";

export interface ProductLimitStep {
  readonly time: number;
  readonly atRisk: number;
  readonly failures: number;
  readonly survival: number;
  /** Greenwood standard error of the survival; null once nothing survives. */
  readonly standardError: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  /** Indexes into the sample of the lives that failed here. */
  readonly failed: readonly number[];
}

export interface ProductLimitCurve {
  readonly method: "product-limit";
  readonly unit: string;
  readonly confidence: number;
  readonly boundsMethod: BoundsMethod;
  /** Survival is of those that reach this age; 0 means from the start. */
  readonly fromAge: number;
  readonly steps: readonly ProductLimitStep[];
  readonly lastTime: number;
  readonly lateEntries: number;
  readonly earlySmallRiskSet: EarlySmallRiskSet | null;
}

export interface ProductLimitOptions {
  readonly confidence?: number;
  readonly bounds?: BoundsMethod;
  /** Conditional curve: survival of those that reach this age. */
  readonly fromAge?: number;
}

/**
 * Product-limit estimate of the survival function S(t) = P(T > t):
 *   S(t) = product over failure times u <= t of 1 - failures(u) / atRisk(u)
 * with Greenwood's variance, var S = S^2 sum d / (n (n - d)).
 *
 * @param sample  Exact and right-censored lives in any order, with late entry and counts; n >= 1.
 * @returns       One step per distinct failure time, ascending; no steps if nothing failed.
 *
 * Conventions  At risk on (entry, exit]: a life censored at a failure time is still at risk there. S is not extended
 *              past `lastTime`. Once S is 0 it stays 0 and has no bounds. `earlySmallRiskSet` names failures among so few
 *              late entries that they drive the curve; `fromAge` gives the curve of those that reach a later age.
 * Errors       "unsupported-censoring" for a left-, interval-censored or ranged life; "bad-life"; "no-lives".
 * Source       Kaplan & Meier (1958), J. Amer. Statist. Assoc. 53, 457-481; Greenwood (1926), Reports on Public Health
 *              and Medical Subjects 33.
 */
export function productLimit(
  sample: LifeSample,
  { confidence = 0.9, bounds = "log-log", fromAge = 0 }: ProductLimitOptions = {},
): ProductLimitCurve {
  const table = riskTable(sample, "product-limit", { fromAge });
  const z = normalQuantile(0.5 + confidence / 2);
  const steps: ProductLimitStep[] = [];
  let survival = 1;
  let relativeVariance = 0;

  for (const { time, atRisk, failures, failed } of table.rows) {
    survival *= 1 - failures / atRisk;
    relativeVariance += failures / (atRisk * (atRisk - failures));
    const relativeError = Math.sqrt(relativeVariance);
    const [lower, upper] = survival > 0 ? survivalBounds(survival, relativeError, z, bounds) : [null, null];
    const standardError = survival > 0 ? survival * relativeError : null;
    steps.push({ time, atRisk, failures, survival, standardError, lower, upper, failed });
  }

  return {
    method: "product-limit",
    unit: sample.unit,
    confidence,
    boundsMethod: bounds,
    fromAge,
    steps,
    lastTime: table.lastTime,
    lateEntries: table.lateEntries,
    earlySmallRiskSet: table.lateEntries > 0 ? findEarlySmallRiskSet(steps) : null,
  };
}
