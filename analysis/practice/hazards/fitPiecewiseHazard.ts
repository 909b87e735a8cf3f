import { AnalysisError } from "../../errors.ts";
import { type Climbed, climbNewton } from "../../estimation/climbNewton.ts";
import type { CovarianceMatrix } from "../../estimation/fitLaw.ts";
import { countLives, refuseFailuresAtZero } from "../../estimation/fitWeibull.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { typicalFailureAge } from "../../estimation/weibullLikelihood.ts";
import { requireCensoring } from "../../nonparametric/censoring.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import { checkDesign } from "../common/checkDesign.ts";
import { dependentColumns } from "../common/dependentColumns.ts";
import { factorPositive } from "../common/factorPositive.ts";
import { type StandardDesign, standardiseDesign } from "../common/standardiseDesign.ts";
import { unboundedCoefficients } from "../common/unboundedCoefficients.ts";
import type { DesignMatrix, JointTest, RegressionMaximum } from "../types.ts";
import { piecewiseSurface } from "./piecewiseSurface.ts";

export interface PiecewiseHazardInput {
  readonly sample: LifeSample;
  readonly design: DesignMatrix;
  /** Pieces of age to begin with, 4 by default; fewer are used where one would have no hazard. */
  readonly pieces?: number;
}

export interface PiecewiseHazardFound {
  readonly maximum: "found";
  readonly unit: string;
  /** Ends of the pieces but the last, which has none. */
  readonly cuts: readonly number[];
  /** Hazard in each piece where every column is 0, per unit of age. */
  readonly hazards: readonly number[];
  readonly names: readonly string[];
  /** exp(coefficient) multiplies the hazard. */
  readonly coefficients: readonly number[];
  readonly covariance: CovarianceMatrix;
  readonly logLikelihood: number;
  /** All coefficients 0? Null where the pieces alone have no maximum, or without columns. */
  readonly likelihoodRatio: JointTest | null;
  readonly iterations: number;
}

export type PiecewiseHazard =
  | PiecewiseHazardFound
  | {
      readonly maximum: Exclude<RegressionMaximum, "found" | "spread shrinks to 0">;
      readonly names: readonly string[];
    };

/**
 * Proportional hazards for lives of any censoring, the hazard constant between a few ages: what a Weibull regression says, checked
 * by a model that assumes little of the course over age.
 *
 * @param input  Lives of any kind but with ages in ranges. Cuts lie at equal shares of the failures' ages (their middles).
 * Errors        "unsupported-censoring" for an age in a range; "bad-life"; "bad-setting" for pieces or a design that do not fit.
 * Accuracy      Newton's method on analytic derivatives, stopped when twice the gain of the next step is below 1e-17.
 * Source        Friedman (1982), Ann. Statist. 10, 101-113; Lindsey & Ryan (1998), Statist. Med. 17, 219-238, for intervals.
 */
export function fitPiecewiseHazard({ sample, design, pieces = 4 }: PiecewiseHazardInput): PiecewiseHazard {
  requireCensoring(sample, "hazard in pieces", ["exact", "right", "left", "interval"]);
  refuseFailuresAtZero(sample);
  checkDesign(design, sample.n, undefined);
  if (!(Number.isInteger(pieces) && pieces >= 1)) {
    throw new AnalysisError("bad-setting", {
      setting: "pieces",
      value: String(pieces),
      allowed: "a whole number above 0",
    });
  }
  if (countLives(sample).failures === 0) return { maximum: "no failures", names: [] };
  const standard = standardiseDesign(design, sample.count);
  const dependent = dependentColumns(standard, sample.count).map((j) => design.names[j]!);
  if (dependent.length > 0) return { maximum: "columns dependent", names: dependent };
  for (let count = pieces; count >= 1; count--) {
    const cuts = cutsOf(sample, count);
    const climbed = climb(sample, standard, cuts);
    const m = climbed.at.length;
    const first = cuts.length + 1;
    const information = climbed.hessian.map((value) => -value);
    const hasEmptyPiece = unboundedCoefficients(information, m, 0, first).length > 0;
    if (hasEmptyPiece && count > 1) continue;
    const runsOff = unboundedCoefficients(information, m, first, standard.columns);
    if (runsOff.length > 0) return { maximum: "separated", names: runsOff.map((j) => design.names[j]!) };
    const inverse = factorPositive(information, m)?.inverse();
    if (!climbed.converged || !inverse) return { maximum: "not converged", names: [] };
    return found(sample, design, standard, cuts, climbed, inverse);
  }
  return { maximum: "not converged", names: [] };
}

function climb(sample: LifeSample, standard: StandardDesign, cuts: readonly number[]): Climbed {
  let [exposure, failures] = [0, 0];
  for (let i = 0; i < sample.n; i++) {
    const failed = typicalFailureAge(sample, i);
    exposure += sample.count[i]! * ((failed ?? sample.lower[i]!) - sample.entry[i]!);
    if (failed !== null) failures += sample.count[i]!;
  }
  const level = exposure > 0 ? Math.log(failures / exposure) : 0;
  const start = [...new Array<number>(cuts.length + 1).fill(level), ...new Array<number>(standard.columns).fill(0)];
  return climbNewton(piecewiseSurface(sample, standard, cuts), start);
}

function found(
  sample: LifeSample,
  design: DesignMatrix,
  standard: StandardDesign,
  cuts: readonly number[],
  climbed: Climbed,
  inverse: Float64Array,
): PiecewiseHazardFound {
  const { means, ranges, columns: k } = standard;
  const first = cuts.length + 1;
  const m = first + k;
  const coefficients = climbed.at.slice(first).map((b, j) => b / ranges[j]!);
  const offset = coefficients.reduce((sum, b, j) => sum + b * means[j]!, 0);
  const nothing = climb(sample, { ...standard, columns: 0, values: new Float64Array(0) }, cuts);
  const chiSquare = Math.max(0, 2 * (climbed.value - nothing.value));
  return {
    maximum: "found",
    unit: sample.unit,
    cuts,
    hazards: climbed.at.slice(0, first).map((level) => Math.exp(level - offset)),
    names: design.names,
    coefficients,
    covariance: {
      names: design.names,
      matrix: design.names.map((_, i) =>
        design.names.map((_, j) => inverse[(first + i) * m + first + j]! / (ranges[i]! * ranges[j]!)),
      ),
    },
    logLikelihood: climbed.value,
    likelihoodRatio:
      nothing.converged && k > 0 ? { chiSquare, degreesOfFreedom: k, pValue: chiSquareUpperTail(chiSquare, k) } : null,
    iterations: climbed.iterations,
  };
}

/** Ages that part the failures into equal shares; equal ones are one. */
function cutsOf(sample: LifeSample, pieces: number): number[] {
  const ages = Array.from({ length: sample.n }, (_, i) => i)
    .flatMap((i) => {
      const age = typicalFailureAge(sample, i);
      return age === null ? [] : [{ age, count: sample.count[i]! }];
    })
    .sort((a, b) => a.age - b.age);
  const total = ages.reduce((sum, { count }) => sum + count, 0);
  const cuts = new Set<number>();
  for (let p = 1; p < pieces; p++) {
    let before = 0;
    const cut = ages.find(({ count }) => {
      before += count;
      return before >= (total * p) / pieces;
    });
    if (cut && cut.age > 0 && cut.age < ages.at(-1)!.age) cuts.add(cut.age);
  }
  return [...cuts].sort((a, b) => a - b);
}
