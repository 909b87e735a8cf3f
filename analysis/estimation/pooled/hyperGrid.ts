import { emptyPoints, marginalLogLikelihood } from "./marginalLikelihood.ts";
import type { ShapeTable } from "./shapeTable.ts";

/** A point of the quadrature over mean and spread of log shapes; the weights sum to 1. */
export interface HyperPoint {
  readonly mean: number;
  readonly spread: number;
  readonly weight: number;
}

/** Standard deviations of log shape that are believed: up to a factor of e^2 either way. */
export const LARGEST_SPREAD = 2;
const MEANS = [Math.log(0.2), Math.log(15)] as const;

/**
 * Quadrature over (mean, spread) with weights proportional to the marginal likelihood, both uniform before: first over all that is
 * believed, then over the part that holds the weight.
 */
export function hyperGrid(tables: readonly ShapeTable[], size = 33): readonly HyperPoint[] {
  const points = emptyPoints();
  let box = { mean: MEANS as readonly [number, number], spread: [0, LARGEST_SPREAD] as readonly [number, number] };
  let grid: readonly HyperPoint[] = [];
  for (let pass = 0; pass < 4; pass++) {
    grid = weighted(tables, box, size, points);
    // Small enough to see only tails outside, and then large enough to be resolved.
    const next = { mean: shrink(grid, "mean", box.mean, size), spread: shrink(grid, "spread", box.spread, size) };
    const isSettled =
      next.mean[1] - next.mean[0] > 0.6 * (box.mean[1] - box.mean[0]) &&
      next.spread[1] - next.spread[0] > 0.6 * (box.spread[1] - box.spread[0]);
    if (isSettled) break;
    box = next;
  }
  return grid;
}

function weighted(
  tables: readonly ShapeTable[],
  box: { readonly mean: readonly [number, number]; readonly spread: readonly [number, number] },
  size: number,
  points: ReturnType<typeof emptyPoints>,
): readonly HyperPoint[] {
  const rows: { mean: number; spread: number; log: number; edge: number }[] = [];
  const along = ([low, high]: readonly [number, number], i: number): number => low + (i / (size - 1)) * (high - low);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const [mean, spread] = [along(box.mean, i), along(box.spread, j)];
      const edge = (i === 0 || i === size - 1 ? 0.5 : 1) * (j === 0 || j === size - 1 ? 0.5 : 1);
      rows.push({ mean, spread, log: marginalLogLikelihood(tables, mean, spread, points), edge });
    }
  }
  const largest = rows.reduce((most, { log }) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  const total = rows.reduce((sum, { log, edge }) => sum + edge * Math.exp(log - largest), 0);
  return rows.map(({ mean, spread, log, edge }) => ({
    mean,
    spread,
    weight: (edge * Math.exp(log - largest)) / total,
  }));
}

/** The part of the box along one axis outside which less than a millionth lies, a cell added at either side. */
function shrink(
  grid: readonly HyperPoint[],
  axis: "mean" | "spread",
  [low, high]: readonly [number, number],
  size: number,
): readonly [number, number] {
  const cell = (high - low) / (size - 1);
  const held = grid.filter(({ weight }) => weight > 1e-7).map((point) => point[axis]);
  const floor = axis === "spread" ? 0 : Number.NEGATIVE_INFINITY;
  return [Math.max(floor, Math.min(...held) - cell), Math.max(...held) + cell];
}

/** Value of one axis below which this share of the weight lies, linear between grid lines. */
export function hyperQuantile(grid: readonly HyperPoint[], axis: "mean" | "spread", share: number): number {
  const byValue = new Map<number, number>();
  for (const point of grid) byValue.set(point[axis], (byValue.get(point[axis]) ?? 0) + point.weight);
  const lines = [...byValue].sort(([a], [b]) => a - b);
  let before = 0;
  for (let i = 0; i + 1 < lines.length; i++) {
    const [from, low] = lines[i]!;
    const [to, high] = lines[i + 1]!;
    // End lines carry half a cell already.
    const panel = (i === 0 ? low : 0.5 * low) + (i + 2 === lines.length ? high : 0.5 * high);
    if (before + panel >= share && panel > 0) return from + ((share - before) / panel) * (to - from);
    before += panel;
  }
  return lines[lines.length - 1]![0];
}
