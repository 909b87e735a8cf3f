import { CELL, CELLS, LOWEST, type ShapeTable } from "./shapeTable.ts";

/** Points of the integral over one group's log shape: cell and weight, for a normal law of log shapes. */
export interface NormalPoints {
  length: number;
  readonly cell: Int32Array;
  readonly share: Float64Array;
  readonly weight: Float64Array;
}

const REACH = 6;
const MOST = 2_000;

export function emptyPoints(): NormalPoints {
  return { length: 0, cell: new Int32Array(MOST), share: new Float64Array(MOST), weight: new Float64Array(MOST) };
}

/**
 * Fills `points` for log shapes normal with this mean and spread; a spread of 0 is one point. Points beyond the table are left out: no
 * shape below 0.1 or above 30 is believed.
 */
export function setNormalPoints(mean: number, spread: number, points: NormalPoints): void {
  // Fine enough for the normal law and for a likelihood of a few hundred failures.
  const step = spread > 0 ? Math.min(0.25, 0.03 / spread) : 1;
  const half = spread > 0 ? Math.floor(REACH / step) : 0;
  let length = 0;
  for (let i = -half; i <= half; i++) {
    const z = i * step;
    const place = (mean + spread * z - LOWEST) / CELL;
    const cell = Math.floor(place);
    if (cell < 0 || cell + 1 >= CELLS) continue;
    points.cell[length] = cell;
    points.share[length] = place - cell;
    points.weight[length] = spread > 0 ? (step * Math.exp(-0.5 * z * z)) / Math.sqrt(2 * Math.PI) : 1;
    length++;
  }
  points.length = length;
}

/** Integral of one group's profile likelihood (relative to its top) over the points. */
export function groupIntegral({ likelihood }: ShapeTable, points: NormalPoints): number {
  let sum = 0;
  for (let i = 0; i < points.length; i++) {
    const cell = points.cell[i]!;
    const low = likelihood[cell]!;
    sum += points.weight[i]! * (low + points.share[i]! * (likelihood[cell + 1]! - low));
  }
  return sum;
}

/**
 * Log of the marginal likelihood of (mean, spread): the product over groups of
 *   integral of L_j(b) normal(b; mean, spread) db,   L_j the profile likelihood of log shape b
 */
export function marginalLogLikelihood(
  tables: readonly ShapeTable[],
  mean: number,
  spread: number,
  points: NormalPoints = emptyPoints(),
): number {
  setNormalPoints(mean, spread, points);
  let sum = 0;
  for (const table of tables) sum += table.top + Math.log(groupIntegral(table, points));
  return sum;
}
