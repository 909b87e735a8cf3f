import { eachTie } from "./eachTie.ts";
import { type OrderedRows, walkRiskSets } from "./riskSets.ts";

/**
 * What happened at each failure age, at given coefficients, as columns of length m: strata in order, ages ascending within them.
 * Vectors stand k to an age. D tied failures are judged by D sums of risk S_l (see `partialLikelihood`), with means x_l.
 */
export interface FollowUp {
  readonly ordered: OrderedRows;
  /** Risk of each position, count included. */
  readonly weights: Float64Array;
  readonly ages: Float64Array;
  readonly stratum: Uint32Array;
  /** First failure age of each stratum, and m at the end. */
  readonly bounds: Uint32Array;
  readonly failures: Float64Array;
  /** Mean over l of x_l. */
  readonly mean: Float64Array;
  /** Sums over l of 1 / S_l and x_l / S_l: the step of the cumulative hazard at average columns. */
  readonly hazard: Float64Array;
  readonly hazardMean: Float64Array;
  /** The same for those that fail: each is at risk in its share 1 - l / D of the sums. */
  readonly ownHazard: Float64Array;
  readonly ownHazardMean: Float64Array;
  /** Running sums of `hazard` and `hazardMean` within the stratum. */
  readonly cumulative: Float64Array;
  readonly cumulativeMean: Float64Array;
}

export function followUp(ordered: OrderedRows, weights: Float64Array): FollowUp {
  const { columns: k } = ordered;
  const found: {
    readonly age: number;
    readonly stratum: number;
    readonly failures: number;
    readonly hazard: number;
    readonly ownHazard: number;
    readonly vectors: Float64Array;
  }[] = [];
  walkRiskSets(ordered, weights, false, (set) => {
    let hazard = 0;
    let ownHazard = 0;
    const vectors = new Float64Array(3 * k);
    eachTie(ordered, set, (share, times) => {
      const total = set.risk - share * set.failedRisk;
      hazard += times / total;
      ownHazard += ((1 - share) * times) / total;
      for (let a = 0; a < k; a++) {
        const mean = (set.first[a]! - share * set.failedFirst[a]!) / total;
        vectors[a]! += (times * mean) / set.failures;
        vectors[k + a]! += (times * mean) / total;
        vectors[2 * k + a]! += ((1 - share) * times * mean) / total;
      }
    });
    found.push({ age: set.age, stratum: set.stratum, failures: set.failures, hazard, ownHazard, vectors });
  });
  found.reverse().sort((a, b) => a.stratum - b.stratum);

  const m = found.length;
  const part = (from: number): Float64Array =>
    Float64Array.from({ length: m * k }, (_, at) => found[Math.floor(at / k)]!.vectors[from * k + (at % k)]!);
  const hazard = Float64Array.from(found, (one) => one.hazard);
  const hazardMean = part(1);
  const stratum = Uint32Array.from(found, (one) => one.stratum);
  const bounds = new Uint32Array(ordered.names.length + 1);
  for (const s of stratum) bounds[s + 1]! += 1;
  for (let s = 0; s < ordered.names.length; s++) bounds[s + 1]! += bounds[s]!;
  const cumulative = Float64Array.from(hazard);
  const cumulativeMean = Float64Array.from(hazardMean);
  for (let i = 1; i < m; i++) {
    if (stratum[i] !== stratum[i - 1]) continue;
    cumulative[i]! += cumulative[i - 1]!;
    for (let a = 0; a < k; a++) cumulativeMean[i * k + a]! += cumulativeMean[(i - 1) * k + a]!;
  }
  return {
    ordered,
    weights,
    ages: Float64Array.from(found, (one) => one.age),
    stratum,
    bounds,
    failures: Float64Array.from(found, (one) => one.failures),
    mean: part(0),
    hazard,
    hazardMean,
    ownHazard: Float64Array.from(found, (one) => one.ownHazard),
    ownHazardMean: part(2),
    cumulative,
    cumulativeMean,
  };
}

/** Index of the last failure age of a stratum at or before `age`; one less than the stratum's first where there is none. */
export function lastAt({ ages, bounds }: FollowUp, stratum: number, age: number): number {
  let low = bounds[stratum]!;
  let high = bounds[stratum + 1]!;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ages[middle]! <= age) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** Stratum of each position. */
export function stratumOfPositions({ strata }: OrderedRows): Uint32Array {
  const of = new Uint32Array(strata[strata.length - 1]!);
  for (let s = 0; s + 1 < strata.length; s++) of.fill(s, strata[s]!, strata[s + 1]!);
  return of;
}
