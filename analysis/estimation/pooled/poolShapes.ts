import { AnalysisError } from "../../errors.ts";
import { chiSquareUpperTail } from "../../numerics/index.ts";
import type { EstimationNotice } from "../estimationNotice.ts";
import { fitWeibull } from "../fitWeibull.ts";
import { shapeProfile } from "../groups/shapeProfile.ts";
import { weibullBounds } from "../profileBounds.ts";
import type { LifeSample, Maximum } from "../types.ts";
import { checkConfidence } from "../weibullQuantity.ts";
import { hyperGrid, hyperQuantile, LARGEST_SPREAD } from "./hyperGrid.ts";
import { emptyPoints, groupIntegral, marginalLogLikelihood, setNormalPoints } from "./marginalLikelihood.ts";
import { CELL, CELLS, LOWEST, type ShapeTable, shapeTable } from "./shapeTable.ts";

interface Bounded {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

export interface PooledGroup {
  readonly name: string;
  readonly failures: number;
  readonly own: {
    readonly maximum: Maximum;
    /** Null without a maximum, or where an end is open. */
    readonly shape: number | null;
    readonly lower: number | null;
    readonly upper: number | null;
    readonly scale: number | null;
  };
  /** Middle and equal-tailed ends of the shape given all groups; scale at that shape, null where nothing failed in this group. */
  readonly pooled: Bounded & { readonly scale: number | null };
}

export interface PooledShapes {
  readonly groups: readonly PooledGroup[];
  /** Largest marginal likelihood: mean and standard deviation of log shape. */
  readonly maximum: { readonly mean: number; readonly spread: number; readonly logLikelihood: number };
  /** The shape in the middle of the groups. */
  readonly typicalShape: Bounded;
  /** Standard deviation of log shape between groups; about the relative spread of shapes where it is small. */
  readonly spread: Bounded;
  /** Of no spread at all: half the tail of chi-square with one degree, as the spread cannot be below 0. */
  readonly noSpread: { readonly statistic: number; readonly pValue: number };
  readonly confidence: number;
  readonly method: "partial pooling of log shapes";
  readonly notices: readonly EstimationNotice[];
}

/** Fewer groups hardly show how far groups differ. Common practice, no source. */
const FEW_GROUPS = 5;

/**
 * Partial pooling of Weibull shapes across modes and sizes: log shapes are normal, mean and spread are learnt from all groups, and each
 * group's own lives speak through the profile likelihood of its shape. A group with many failures keeps its own shape; one with few, or
 * none, leans on the others.
 *
 * The estimate of mean and spread is the maximum of the marginal likelihood. The bounds of each group, of the typical shape and of the
 * spread average over what is not known of mean and spread (quadrature, both uniform before, spread up to 2): plugging in the maximum
 * would make forty groups of four failures look surer than they are.
 *
 * @param groups  Two or more, each at least one life; ages may be in a unit of each group's own.
 * Errors         "bad-setting" for fewer than two groups or a confidence out of range; "no-lives" where nothing failed in any.
 * Conventions    The scale of a group is profiled; for exact and right-censored lives that equals integrating it out (see
 *                `shapePosterior`). Shapes outside 0.1 to 30 are not believed.
 * Source         Morris (1983), J. Amer. Statist. Assoc. 78, 47-55, for parametric empirical Bayes; Gelman (2006), Bayesian
 *                Analysis 1, 515-533, for the uniform spread.
 */
export function poolShapes(
  groups: readonly { readonly name: string; readonly sample: LifeSample }[],
  confidence: number,
): PooledShapes {
  checkConfidence(confidence);
  if (groups.length < 2) throw new AnalysisError("bad-setting", { setting: "groups", value: groups.length });
  const fits = groups.map(({ sample }) => fitWeibull(sample));
  if (fits.every(({ counts }) => counts.failures === 0)) throw new AnalysisError("no-lives", { method: "pooling" });
  const profiles = groups.map(({ sample }) => shapeProfile(sample));
  const tables = profiles.map(shapeTable);
  const grid = hyperGrid(tables);
  const posteriors = groupPosteriors(tables, grid);
  const best = highest(tables, hyperQuantile(grid, "mean", 0.5));
  const tail = 0.5 * (1 - confidence);
  const bounded = (axis: "mean" | "spread"): readonly [number, number, number] => [
    hyperQuantile(grid, axis, 0.5),
    hyperQuantile(grid, axis, tail),
    hyperQuantile(grid, axis, 1 - tail),
  ];
  const [typical, typicalLow, typicalHigh] = bounded("mean").map(Math.exp) as [number, number, number];
  const [spread, spreadLow, spreadHigh] = bounded("spread");

  const without = bestMean(tables, 0, best.mean).value;
  const statistic = best.spread === 0 ? 0 : Math.max(0, 2 * (best.logLikelihood - without));
  const notices: EstimationNotice[] = [];
  if (groups.length < FEW_GROUPS) notices.push({ code: "few-groups", facts: { groups: groups.length } });
  if (best.spread < 1e-3) notices.push({ code: "no-spread-between-groups", facts: { upper: spreadHigh } });
  return {
    groups: groups.map(({ name, sample }, index) => {
      const fit = fits[index]!;
      const isFound = fit.maximum === "found";
      const bounds = isFound ? weibullBounds(fit, sample, { kind: "shape" }, confidence) : null;
      const [value, lower, upper] = [0.5, tail, 1 - tail].map((share) =>
        Math.exp(histogramQuantile(posteriors[index]!, share)),
      ) as [number, number, number];
      const scale = profiles[index]!(Math.log(value)).scale;
      return {
        name,
        failures: fit.counts.failures,
        own: {
          maximum: fit.maximum,
          shape: isFound ? fit.shape : null,
          lower: bounds?.lower ?? null,
          upper: bounds?.upper ?? null,
          scale: isFound ? fit.scale : null,
        },
        pooled: { value, lower, upper, scale: Number.isFinite(scale) ? scale : null },
      };
    }),
    maximum: best,
    typicalShape: { value: typical, lower: typicalLow, upper: typicalHigh },
    spread: { value: spread, lower: spreadLow, upper: spreadHigh },
    noSpread: { statistic, pValue: statistic === 0 ? 1 : 0.5 * chiSquareUpperTail(statistic, 1) },
    confidence,
    method: "partial pooling of log shapes",
    notices,
  };
}

/** Posterior of each group's log shape on the cells of the tables, averaged over mean and spread. */
function groupPosteriors(tables: readonly ShapeTable[], grid: ReturnType<typeof hyperGrid>): Float64Array[] {
  const points = emptyPoints();
  const posteriors = tables.map(() => new Float64Array(CELLS));
  for (const { mean, spread, weight } of grid) {
    if (weight < 1e-9) continue;
    setNormalPoints(mean, spread, points);
    tables.forEach((table, group) => {
      const total = groupIntegral(table, points);
      const posterior = posteriors[group]!;
      for (let i = 0; i < points.length; i++) {
        const cell = points.cell[i]!;
        const share = points.share[i]!;
        const low = table.likelihood[cell]!;
        const here = low + share * (table.likelihood[cell + 1]! - low);
        const mass = (weight * points.weight[i]! * here) / total;
        posterior[cell]! += (1 - share) * mass;
        posterior[cell + 1]! += share * mass;
      }
    });
  }
  return posteriors;
}

function histogramQuantile(mass: Float64Array, share: number): number {
  const target = share * mass.reduce((sum, one) => sum + one, 0);
  let before = 0;
  for (let cell = 0; cell < CELLS; cell++) {
    const here = mass[cell]!;
    if (before + here >= target && here > 0) return LOWEST + CELL * (cell - 0.5 + (target - before) / here);
    before += here;
  }
  return LOWEST + CELL * (CELLS - 1);
}

function highest(tables: readonly ShapeTable[], start: number): PooledShapes["maximum"] {
  const at = (spread: number) => bestMean(tables, spread, start);
  const spread = golden((tau) => at(tau).value, 0, LARGEST_SPREAD);
  const chosen = at(0).value >= at(spread).value - 1e-9 ? 0 : spread;
  const { mean, value } = at(chosen);
  return { mean, spread: chosen, logLikelihood: value };
}

function bestMean(tables: readonly ShapeTable[], spread: number, near: number): { mean: number; value: number } {
  const points = emptyPoints();
  const mean = golden((mu) => marginalLogLikelihood(tables, mu, spread, points), near - 1, near + 1);
  return { mean, value: marginalLogLikelihood(tables, mean, spread, points) };
}

function golden(f: (x: number) => number, from: number, to: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [from, to];
  let [c, d] = [b - ratio * (b - a), a + ratio * (b - a)];
  let [atC, atD] = [f(c), f(d)];
  while (b - a > 1e-6) {
    if (atC > atD) {
      b = d;
      [d, atD] = [c, atC];
      c = b - ratio * (b - a);
      atC = f(c);
    } else {
      a = c;
      [c, atC] = [d, atD];
      d = a + ratio * (b - a);
      atD = f(d);
    }
  }
  return 0.5 * (a + b);
}
