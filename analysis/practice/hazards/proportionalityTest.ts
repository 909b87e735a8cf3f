import { chiSquareUpperTail } from "../../numerics/index.ts";
import { factorPositive } from "../common/factorPositive.ts";
import type { JointTest, ProportionalHazardsFound, ProportionalHazardsInput } from "../types.ts";
import { compileHazards, standardised } from "./compileHazards.ts";
import { eachTie } from "./eachTie.ts";
import { failureScores, type TimeScale } from "./failureScores.ts";
import { walkRiskSets } from "./riskSets.ts";

export interface ProportionalityTest {
  readonly scale: TimeScale;
  /** Does the effect of the term change with age? Null where the information does not settle it. */
  readonly terms: readonly { readonly name: string; readonly test: JointTest | null }[];
  /** All terms at once. */
  readonly overall: JointTest | null;
}

/**
 * Score test of x g(age) added to each term, g a scale of age: is the ratio of hazards the same at every age?
 *
 * @param fit      Fitted to the same `input`, without a penalty.
 * @param scale    "product-limit" (share failed before), "age", "rank" of the failure ages, "log age".
 * Conventions     Ties as in the fit; the scale takes all strata together. Model-based covariance, also with clusters.
 * Source          Grambsch & Therneau (1994), Biometrika 81, 515-526, as the exact score test.
 */
export function proportionalityTest(
  fit: ProportionalHazardsFound,
  input: ProportionalHazardsInput,
  { scale = "product-limit" }: { readonly scale?: TimeScale } = {},
): ProportionalityTest {
  const { standard, ordered, surface } = compileHazards(input);
  const k = ordered.columns;
  const weights = surface.weights(standardised(fit.coefficients, standard));
  const scoreAt = failureScores(input.rows, scale);
  const score = new Float64Array(k);
  /** Sums over failures of V, g V and g^2 V, V the covariance of x among those at risk. */
  const plain = new Float64Array(k * k);
  const mixed = new Float64Array(k * k);
  const square = new Float64Array(k * k);
  walkRiskSets(ordered, weights, true, (set) => {
    const g = scoreAt(set.age);
    for (let a = 0; a < k; a++) score[a]! += g * set.failedX[a]!;
    eachTie(ordered, set, (share, times) => {
      const total = set.risk - share * set.failedRisk;
      const mean = (a: number): number => (set.first[a]! - share * set.failedFirst[a]!) / total;
      for (let a = 0; a < k; a++) {
        score[a]! -= times * g * mean(a);
        for (let b = 0; b <= a; b++) {
          const product = (set.second[a * k + b]! - share * set.failedSecond[a * k + b]!) / total;
          const spread = times * (product - mean(a) * mean(b));
          for (const at of a === b ? [a * k + b] : [a * k + b, b * k + a]) {
            plain[at]! += spread;
            mixed[at]! += g * spread;
            square[at]! += g * g * spread;
          }
        }
      }
    });
  });
  const factor = factorPositive(plain, k);
  const testOf = (columns: readonly number[]): JointTest | null => {
    const size = columns.length;
    if (!factor || size === 0) return null;
    const left = new Float64Array(size * size);
    const solved = columns.map((j) => factor.solve(mixed.slice(j * k, (j + 1) * k)));
    columns.forEach((i, a) => {
      columns.forEach((j, b) => {
        let explained = 0;
        for (let c = 0; c < k; c++) explained += mixed[i * k + c]! * solved[b]![c]!;
        left[a * size + b] = square[i * k + j]! - explained;
      });
    });
    const own = Float64Array.from(columns, (j) => score[j]!);
    const along = factorPositive(left, size)?.solve(own);
    if (!along) return null;
    const chiSquare = own.reduce((sum, value, a) => sum + value * along[a]!, 0);
    return { chiSquare, degreesOfFreedom: size, pValue: chiSquareUpperTail(chiSquare, size) };
  };
  return {
    scale,
    terms: input.design.terms.map(({ name, columns }) => ({ name, test: testOf(columns) })),
    overall: testOf(Array.from({ length: k }, (_, j) => j)),
  };
}
