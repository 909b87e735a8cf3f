import { normalCdf, normalQuantile, studentCdf, studentQuantile } from "../numerics/index.ts";
import { type RateBand, type RateRatio, rateRatio, ratioBounds } from "./rateRatio.ts";
import { type ToolCell, type ToolSpread, toolSpread } from "./toolSpread.ts";

export interface RatioByTool {
  /** Exact, every failure for itself. */
  readonly exact: RateRatio;
  /** Null: fewer than five tools, not tested. */
  readonly spread: ToolSpread | null;
  /** Where tools are shown to differ (p < 0.05): bounds and p-value by tool, and how many times the variance is. */
  readonly byTool: (Pick<RateRatio, "lower" | "upper" | "pValue"> & { readonly inflation: number }) | null;
}

/** Fewer tools are not tested. Common practice, no source. */
const FEWEST = 5;
/** Under this p-value tools are taken to differ. Common practice, no source. */
const TOOLS_DIFFER = 0.05;
/** Normal quantiles beyond are those of 1e-15: further out probabilities have no digits left. */
const FURTHEST = 8;

/**
 * Ratio of two failure rates within strata, and what is left of its bounds where tools do not fail alike: the variance of
 * the log ratio by tool over the model's,
 *   inflation = n / (n - 2) * sum over tools of U^2 / sum over strata of m p (1 - p),
 *   U = sum over strata of (1 - p) (a - m p h1 / H1) - p (b - m (1 - p) h0 / H0),   p = ratio H1 / (ratio H1 + H0)
 * with a and b failures of the tool in h1 hours after and h0 before, m failures and H hours of the stratum, n tools. What a
 * tool does on both sides cancels in U: tools that differ, but ran before and after alike, do not widen the bounds. The
 * exact bounds are then those at the level whose normal quantile is sqrt(inflation) times Student's, n - 2 degrees of
 * freedom; never narrower than the exact ones at the level asked.
 *
 * Conventions  No failures on one side: U says nothing, and the inflation is the factor of `toolSpread`.
 * Accuracy     `tests/studies/results/decision-since.md`: how often the bounds hold.
 * Source       Liang & Zeger (1986), Biometrika 73, 13-22 (variance by cluster), in the score of the conditional likelihood of
 *              Breslow & Day (1987), IARC 82, 3.6; McCullagh & Nelder (1989), ch. 4 and 9 (quasi-likelihood). Places from memory.
 */
export function ratioByTool(cells: readonly ToolCell[], confidence: number, seed: number): RatioByTool {
  const bands = bandsOf(cells);
  const exact = rateRatio([...bands.values()], confidence);
  const tools = new Set(cells.filter(({ hours }) => hours > 0).map(({ tool }) => tool)).size;
  if (tools < FEWEST) return { exact, spread: null, byTool: null };
  const spread = toolSpread(cells, seed);
  if (!(spread.pValue < TOOLS_DIFFER) || exact.failures === 0) return { exact, spread, byTool: null };

  const inflation = Math.max(
    1,
    exact.ratio === null || exact.ratio === 0 ? spread.factor : inflationOf(cells, bands, exact.ratio),
  );
  const wider = Math.sqrt(inflation);
  const far = Math.min(FURTHEST, wider * studentQuantile((1 + confidence) / 2, tools - 2));
  const steps = -normalQuantile(Math.max(exact.pValue, 1e-300) / 2);
  return {
    exact,
    spread,
    byTool: {
      ...ratioBounds([...bands.values()], normalCdf(-far)),
      pValue: Math.min(1, 2 * studentCdf(-steps / wider, tools - 2)),
      inflation,
    },
  };
}

/** Failures and hours of all tools by stratum. */
export function bandsOf(cells: readonly ToolCell[]): ReadonlyMap<string, RateBand> {
  const bands = new Map<
    string,
    { before: { failures: number; hours: number }; after: { failures: number; hours: number } }
  >();
  for (const { stratum, side, failures, hours } of cells) {
    const band = bands.get(stratum) ?? { before: { failures: 0, hours: 0 }, after: { failures: 0, hours: 0 } };
    band[side].failures += failures;
    band[side].hours += hours;
    bands.set(stratum, band);
  }
  return bands;
}

function inflationOf(cells: readonly ToolCell[], bands: ReadonlyMap<string, RateBand>, ratio: number): number {
  const scores = new Map<string, number>();
  for (const { tool, stratum, side, failures, hours } of cells) {
    const band = bands.get(stratum);
    if (!band || !(band.before.hours > 0 && band.after.hours > 0)) continue;
    const p = afterShare(band, ratio);
    const all = band.before.failures + band.after.failures;
    const score =
      side === "after"
        ? (1 - p) * (failures - (all * p * hours) / band.after.hours)
        : -p * (failures - (all * (1 - p) * hours) / band.before.hours);
    scores.set(tool, (scores.get(tool) ?? 0) + score);
  }
  let model = 0;
  for (const band of bands.values()) {
    if (!(band.before.hours > 0 && band.after.hours > 0)) continue;
    const p = afterShare(band, ratio);
    model += (band.before.failures + band.after.failures) * p * (1 - p);
  }
  const squares = [...scores.values()].reduce((sum, score) => sum + score * score, 0);
  return ((scores.size / Math.max(1, scores.size - 2)) * squares) / model;
}

const afterShare = ({ before, after }: RateBand, ratio: number): number =>
  (ratio * after.hours) / (ratio * after.hours + before.hours);
