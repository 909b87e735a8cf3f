import type { OrderedRows, RiskSet } from "./riskSets.ts";

/**
 * For each row, the sum over the failure ages at which it was at risk of 1 / sum of risk: what a row adds to sums over all risk
 * sets is its own value times this. Filled while the risk sets are walked, from the last age of each stratum to the first.
 */
export interface RiskDoses {
  clear(): void;
  /** @param ownHazard  What counts for the rows that fail at this age: their shares of the sums. */
  add(set: RiskSet, hazard: number, ownHazard: number): void;
  /** Minus weight times dose of each position; overwritten by the next call. */
  negativeWeights(weights: Float64Array): Float64Array;
}

export function riskDoses({ row, stop, start, strata, leaving, leavingStrata }: OrderedRows): RiskDoses {
  const n = row.length;
  const ages = new Float64Array(n);
  const hazards = new Float64Array(n);
  const owns = new Float64Array(n);
  const from = new Uint32Array(n);
  const failedTo = new Uint32Array(n);
  const result = new Float64Array(n);
  /** Sets seen of each stratum: [firsts[s], firsts[s + 1]). */
  const firsts = new Uint32Array(strata.length);
  let used = 0;
  return {
    clear: () => {
      used = 0;
      firsts.fill(0);
    },
    add: (set, hazard, ownHazard) => {
      ages[used] = set.age;
      hazards[used] = hazard;
      owns[used] = ownHazard;
      from[used] = set.from;
      failedTo[used] = set.failedTo;
      used += 1;
      firsts[set.stratum + 1] = used;
    },
    negativeWeights: (weights) => {
      for (let s = 0; s + 1 < strata.length; s++) {
        // A stratum without failures has no sets.
        firsts[s + 1] = Math.max(firsts[s]!, firsts[s + 1]!);
        const last = firsts[s + 1]! - 1;
        let next = last;
        let dose = 0;
        for (let at = strata[s + 1]! - 1; at >= strata[s]!; at--) {
          while (next >= firsts[s]! && ages[next]! <= stop[at]!) dose += hazards[next--]!;
          result[at] = dose;
        }
        next = last;
        dose = 0;
        for (let late = leavingStrata[s + 1]! - 1; late >= leavingStrata[s]!; late--) {
          const at = leaving[late]!;
          while (next >= firsts[s]! && ages[next]! <= start[at]!) dose += hazards[next--]!;
          result[at]! -= dose;
        }
      }
      for (let set = 0; set < used; set++) {
        for (let at = from[set]!; at < failedTo[set]!; at++) result[at]! += owns[set]! - hazards[set]!;
      }
      for (let at = 0; at < n; at++) result[at] = -weights[at]! * result[at]!;
      return result;
    },
  };
}
