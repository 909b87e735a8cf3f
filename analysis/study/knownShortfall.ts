import { type CoverageFigure, coverageFigures } from "./coverageFigures.ts";

/** What decides how well bounds of a fitted Weibull law hold. */
export interface BoundsAtHand {
  readonly method: CoverageFigure["method"];
  /** Observed. The study knows expected ones; the row nearest in ratio is read. */
  readonly failures: number;
  /** Failures at a known age among them; the others were found at a look. */
  readonly exact: number;
  /** Mean number of looks a life. */
  readonly looksALife: number;
  /** Tools are shown to differ: the figures with a tool-to-tool spread are read. */
  readonly toolsDiffer: boolean;
}

export interface Shortfall extends CoverageFigure {
  /** `lower`: the lower bound claims too much too often; else only the upper bound is too low too often. */
  readonly side: "lower" | "upper";
  /** Share on that side. */
  readonly missed: number;
}

const EXPECTED = [3, 5, 10, 20, 50] as const;
/** Farther than this ratio beyond the last row nothing is known, and bounds hold better. */
const FARTHEST = Math.SQRT2;
const FEW_LOOKS = 4;
/** A share under this is not worth a notice. Own choice, no source. */
const NAMED = 0.06;

/**
 * How far 90 % two-sided bounds of B10 are known to fall short, from simulated fleets; null where they hold, or nearly.
 * Source  tests/studies/results/coverage-study.md, `npm run coverage-study`.
 */
export function knownShortfall(at: BoundsAtHand): Shortfall | null {
  const { method, failures, exact, looksALife, toolsDiffer } = at;
  if (failures < 1 || failures > 50 * FARTHEST) return null;
  const kind = 2 * exact >= failures ? "known age" : looksALife <= FEW_LOOKS ? "few looks" : "many looks";
  const nearest = EXPECTED.reduce((best, row) =>
    Math.abs(Math.log(failures / row)) < Math.abs(Math.log(failures / best)) ? row : best,
  );
  const figure = coverageFigures.find(
    (row) =>
      row.method === method && row.kind === kind && row.spread === (toolsDiffer ? 0.3 : 0) && row.failures === nearest,
  );
  if (!figure) return null;
  // The lower side comes first: it is the one that misleads.
  if (figure.below >= NAMED) return { ...figure, side: "lower", missed: figure.below };
  return figure.above >= NAMED ? { ...figure, side: "upper", missed: figure.above } : null;
}
