import { AnalysisError } from "../../errors.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull } from "../fitWeibull.ts";
import { lifeSample } from "../lifeSample.ts";
import { weibullQuantity } from "../weibullQuantity.ts";
import { climbNumerically } from "./climbNumerically.ts";

/** A life of a mode that only looks find. */
export interface InspectedLife {
  /** Ages of all looks of this life, above `entry`. */
  readonly looks: readonly number[];
  /** Whether the last of them found the defect; all others found none. */
  readonly found: boolean;
  /** Age at which it was surely sound; 0 by default. */
  readonly entry?: number;
}

export interface DetectionRow {
  /** Probability that a look sees a defect that is there. */
  readonly detection: number;
  /** Null: no maximum at this probability. */
  readonly shape: number | null;
  readonly scale: number | null;
  readonly b10: number | null;
  readonly median: number | null;
  readonly logLikelihood: number | null;
}

export interface DetectionSensitivity {
  readonly rows: readonly DetectionRow[];
  readonly lives: number;
  readonly found: number;
  readonly method: "imperfect detection";
  readonly notices: readonly EstimationNotice[];
}

/**
 * How B10 and median move if a look sees a defect that is there only with probability q, each look independently and never where there
 * is none. With looks t_1 < ... < t_m and t_0 the age of entry:
 *
 *   found at t_m    sum over j of [S(t_(j-1)) - S(t_j)] (1 - q)^(m - j) q
 *   never found     S(t_m) + sum over j of [S(t_(j-1)) - S(t_j)] (1 - q)^(m - j + 1)
 *
 * both divided by S(t_0). q = 1 is the plain fit. q itself is hardly to be learnt from such data; hence a range of it.
 *
 * @param lives  Lives without a look say nothing, are left out, and are counted in a notice.
 * Errors        "no-lives" where no life was looked at; "bad-setting" for q outside (0, 1]; "bad-life" for looks at or below entry.
 * Accuracy      Estimates to about 1e-6.
 * Source        Written from the definition; cf. Baker & Wang (1991), IMA J. Math. Appl. Business & Industry 3, 267-282, on
 *               imperfect inspection (from memory).
 */
export function detectionSensitivity(
  lives: readonly InspectedLife[],
  unit: string,
  detections: readonly number[] = [1, 0.9, 0.8, 0.7],
): DetectionSensitivity {
  for (const detection of detections) {
    if (!(detection > 0 && detection <= 1)) {
      throw new AnalysisError("bad-setting", { setting: "detection", value: String(detection) });
    }
  }
  const seen = lives
    .map(({ looks, found, entry = 0 }) => ({ looks: [...looks].sort((a, b) => a - b), found, entry }))
    .filter(({ looks }) => looks.length > 0);
  seen.forEach(({ looks, entry }, index) => {
    if (!(entry >= 0 && looks[0]! > entry && Number.isFinite(looks[looks.length - 1]!))) {
      throw new AnalysisError("bad-life", {
        row: index + 1,
        column: "looks",
        value: String(looks[0]),
        why: "entry beyond exit",
      });
    }
  });
  const plain = fitWeibull(
    lifeSample({
      unit,
      lives: seen.map(({ looks, found, entry }) => {
        const last = looks[looks.length - 1]!;
        return found
          ? { lower: looks[looks.length - 2] ?? entry, upper: last, entry }
          : { lower: last, upper: null, entry };
      }),
    }),
  );
  const rows = detections.map((detection): DetectionRow => {
    const none = { detection, shape: null, scale: null, b10: null, median: null, logLikelihood: null };
    if (plain.maximum !== "found") return none;
    const top = climbNumerically(
      ([logShape = 0, logScale = 0]) => detectionLogLikelihood(seen, detection, Math.exp(logShape), Math.exp(logScale)),
      [Math.log(plain.shape), Math.log(plain.scale)],
    );
    if (!top) return none;
    const law = { shape: Math.exp(top.at[0]!), scale: Math.exp(top.at[1]!) };
    const at = (failedFraction: number): number => weibullQuantity({ kind: "quantile", failedFraction }, law);
    return { detection, ...law, b10: at(0.1), median: at(0.5), logLikelihood: top.value };
  });
  const notices: EstimationNotice[] = [];
  if (seen.length < lives.length) notices.push({ code: "looks-missing", facts: { lives: lives.length - seen.length } });
  if (plain.maximum !== "found") notices.push({ code: "margin-without-maximum", facts: { which: "mode" } });
  return {
    rows,
    lives: seen.length,
    found: seen.filter(({ found }) => found).length,
    method: "imperfect detection",
    notices,
  };
}

function detectionLogLikelihood(
  lives: readonly { readonly looks: readonly number[]; readonly found: boolean; readonly entry: number }[],
  detection: number,
  shape: number,
  scale: number,
): number {
  const missed = 1 - detection;
  let sum = 0;
  for (const { looks, found, entry } of lives) {
    const start = (entry / scale) ** shape;
    // Chance of no finding so far with a defect present, and the chance to have come in since the last look.
    let hidden = 0;
    let before = 1;
    let probability = 0;
    for (const [i, look] of looks.entries()) {
      const hazard = (look / scale) ** shape;
      const after = Math.exp(start - hazard);
      const came = i === 0 ? -Math.expm1(start - hazard) : before - after;
      probability = (hidden + came) * detection;
      hidden = (hidden + came) * missed;
      before = after;
    }
    sum += Math.log(found ? probability : before + hidden);
  }
  return sum;
}
