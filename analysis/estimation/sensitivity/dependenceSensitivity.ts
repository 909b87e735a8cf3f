import { AnalysisError } from "../../errors.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull } from "../fitWeibull.ts";
import { lifeSample } from "../lifeSample.ts";
import type { Maximum } from "../types.ts";
import { weibullQuantity } from "../weibullQuantity.ts";
import { claytonCopula } from "./claytonCopula.ts";
import { climbNumerically } from "./climbNumerically.ts";

/** A life of a mode that looks find, with what became of the same item otherwise. Ages in one unit. */
export interface WatchedLife {
  /** Last age known sound. */
  readonly lower: number;
  /** First age known failed; null where it had not failed at the last look. */
  readonly upper: number | null;
  readonly entry?: number;
  /** The last look was made because the item failed otherwise, at this age; null where it was due anyway. */
  readonly failedOtherwiseAt: number | null;
}

export interface DependenceRow {
  /** Kendall's tau between the age at this mode's failure and the age at the other failure of the item. */
  readonly tau: number;
  /** Null: no maximum at this tau. */
  readonly shape: number | null;
  readonly scale: number | null;
  readonly b10: number | null;
  readonly median: number | null;
  readonly logLikelihood: number | null;
}

export interface DependenceSensitivity {
  /** Share of last looks that followed another failure of the same item. */
  readonly share: number;
  /** Whether that is over a tenth, where the rows are worth showing. */
  readonly isWorthShowing: boolean;
  readonly otherFailure: { readonly maximum: Maximum; readonly shape: number | null; readonly scale: number | null };
  readonly rows: readonly DependenceRow[];
  readonly method: "Clayton copula, both laws together";
  readonly notices: readonly EstimationNotice[];
}

/** Over a tenth: the level that the study states. */
const WORTH_SHOWING = 0.1;

/**
 * How B10 and median of a mode move if looks that followed another failure of the same item were no accident: the age X at this
 * mode's failure and the age Y at the other failure hang together by Clayton's copula with Kendall's tau 0, 0.3, 0.6 (0 is the plain
 * fit). For each tau the two Weibull laws are fitted together, from
 *   look due anyway at c, sound before l:    P(l < X <= c, Y > c), or P(X > c, Y > c)
 *   look after the other failure at y:       P(l < X <= y, Y = y), or P(X > y, Y = y)
 * divided by P(X > entry, Y > entry) where observation began later. Together, because finding X ends the following of Y.
 * tau itself cannot be learnt from such data; hence a range of it.
 *
 * @param lives  One or more; where `failedOtherwiseAt` is given the last look, `upper` or else `lower`, was made at that age.
 * Errors        "no-lives"; "bad-setting" for tau outside [0, 1); "bad-life" as `lifeSample`.
 * Conventions   A look before the last that found the item sound and not failed otherwise is used for X, as `lower`.
 * Accuracy      Estimates to about 1e-6.
 * Source        Zheng & Klein (1995), Biometrika 82, 127-138, for an assumed copula where dependence cannot be identified.
 */
export function dependenceSensitivity(
  lives: readonly WatchedLife[],
  unit: string,
  taus: readonly number[] = [0, 0.3, 0.6],
): DependenceSensitivity {
  for (const tau of taus) {
    if (!(tau >= 0 && tau < 1)) throw new AnalysisError("bad-setting", { setting: "tau", value: String(tau) });
  }
  const own = fitWeibull(
    lifeSample({ unit, lives: lives.map(({ lower, upper, entry = 0 }) => ({ lower, upper, entry })) }),
  );
  const other = fitWeibull(
    lifeSample({
      unit,
      lives: lives.map(({ lower, upper, entry = 0, failedOtherwiseAt: at }) =>
        at === null ? { lower: upper ?? lower, upper: null, entry } : { lower: at, upper: at, entry },
      ),
    }),
  );
  const share = lives.filter(({ failedOtherwiseAt }) => failedOtherwiseAt !== null).length / lives.length;
  const notices: EstimationNotice[] = [];
  if (own.maximum !== "found" || other.maximum !== "found") {
    const which = own.maximum === "found" ? "other failure" : "mode";
    notices.push({ code: "margin-without-maximum", facts: { which } });
  }
  const rows = taus.map((tau): DependenceRow => {
    const none = { tau, shape: null, scale: null, b10: null, median: null, logLikelihood: null };
    if (own.maximum !== "found" || other.maximum !== "found") return none;
    const laws = (x: readonly number[]): [Law, Law] => {
      const [shape = 1, scale = 1, otherShape = 1, otherScale = 1] = x.map(Math.exp);
      return [
        { shape, scale },
        { shape: otherShape, scale: otherScale },
      ];
    };
    const start = [own.shape, own.scale, other.shape, other.scale].map(Math.log);
    const top = climbNumerically((x) => jointLogLikelihood(lives, tau, ...laws(x)), start);
    if (!top) return none;
    const [law] = laws(top.at);
    const at = (failedFraction: number): number => weibullQuantity({ kind: "quantile", failedFraction }, law);
    return { tau, ...law, b10: at(0.1), median: at(0.5), logLikelihood: top.value };
  });
  return {
    share,
    isWorthShowing: share > WORTH_SHOWING,
    otherFailure: {
      maximum: other.maximum,
      shape: other.maximum === "found" ? other.shape : null,
      scale: other.maximum === "found" ? other.scale : null,
    },
    rows,
    method: "Clayton copula, both laws together",
    notices,
  };
}

interface Law {
  readonly shape: number;
  readonly scale: number;
}

/** Log likelihood of both laws at a given tau. */
export function jointLogLikelihood(lives: readonly WatchedLife[], tau: number, own: Law, other: Law): number {
  const copula = claytonCopula(tau);
  const logSurvival = ({ shape, scale }: Law, age: number): number => -((age / scale) ** shape);
  let sum = 0;
  for (const { lower, upper, entry = 0, failedOtherwiseAt } of lives) {
    const last = failedOtherwiseAt ?? upper ?? lower;
    const v = logSurvival(other, last);
    const beyond = failedOtherwiseAt === null ? copula.joint : copula.given;
    if (failedOtherwiseAt !== null) {
      sum += v + Math.log(other.shape / other.scale) + (other.shape - 1) * Math.log(last / other.scale);
    }
    const from = logSurvival(own, Math.max(lower, entry));
    if (upper === null) sum += Math.log(beyond(from, v));
    else if (upper > lower) sum += Math.log(beyond(from, v) - beyond(logSurvival(own, upper), v));
    else {
      // An exact age of this mode: the density, by a narrow difference.
      const step = 1e-5 * lower;
      const [high, low] = [lower - step, lower + step].map((age) => beyond(logSurvival(own, age), v)) as [
        number,
        number,
      ];
      sum += Math.log((high - low) / (2 * step));
    }
    if (entry > 0) sum -= Math.log(copula.joint(logSurvival(own, entry), logSurvival(other, entry)));
  }
  return sum;
}
