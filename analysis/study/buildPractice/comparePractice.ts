import { type Comparison, lifeMultiplier } from "../../practice/screen/lifeMultiplier.ts";
import { FEWEST_FAILURES, LEAST_SHARE_LEFT } from "../../practice/screen/verdict.ts";
import { type Entanglement, whatElseDiffered } from "../../practice/screen/whatElseDiffered.ts";
import type { RegressionLaw } from "../../practice/types.ts";
import { companionsOf } from "./companions.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeTable } from "./modeTable.ts";

/** A contrast, compared by itself and with what else differed held. */
export interface Compared {
  readonly failures: number;
  readonly serials: number;
  readonly entanglement: Entanglement;
  readonly unadjusted: Comparison | null;
  readonly adjusted: Comparison | null;
}

/** Fewer failures than this, and no comparison is fitted at all. */
const FEWEST_TO_FIT = 4;

/**
 * @param only  Rows to keep, all by default: for "without this tool".
 * @param law   Weibull by default; a defect that leads to a failure knows no other.
 */
export function comparePractice(
  table: ModeTable,
  contrast: Contrast,
  only: (row: ModeTable["rows"][number]) => boolean = () => true,
  law?: RegressionLaw,
): Compared {
  const kept = contrast.rows.flatMap((row, place) =>
    only(table.rows[row]!) ? [{ row, value: contrast.values[place]! }] : [],
  );
  const rows = kept.map(({ row }) => table.rows[row]!);
  const values = Float64Array.from(kept, ({ value }) => value);
  const failures = rows.filter(({ failed }) => failed).length;
  const serials = new Set(rows.map(({ life }) => life.serial)).size;
  const weights = Float64Array.from(rows, ({ expected }) => Math.max(expected, 1e-9));
  const entanglement = whatElseDiffered(values, companionsOf(contrast.practice, rows), weights);
  const base = { failures, serials, entanglement };
  const fitter =
    failures < FEWEST_TO_FIT
      ? null
      : table.fitterOf(
          kept.map(({ row }) => row),
          law,
        );
  if (!fitter) return { ...base, unadjusted: null, adjusted: null };
  const practice = { name: "practice", values };
  const step = contrast.at - contrast.against;
  const unadjusted = lifeMultiplier(fitter, [practice], step, serials);
  const { expected, shareLeft } = entanglement;
  const adjusted =
    expected === null
      ? unadjusted
      : shareLeft < 1e-6
        ? null
        : lifeMultiplier(fitter, [practice, expected], step, serials);
  return { ...base, unadjusted, adjusted };
}

/** Whether a comparison enters the test of the whole screen: enough failures, and a practice that varied on its own. */
export const isTested = ({ failures, entanglement, adjusted }: Compared): boolean =>
  failures >= FEWEST_FAILURES && entanglement.shareLeft >= LEAST_SHARE_LEFT && adjusted !== null;
