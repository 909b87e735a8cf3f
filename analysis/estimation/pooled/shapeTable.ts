import type { ShapeProfile } from "../groups/shapeProfile.ts";

/** Log shapes that a group may have: shapes from 0.1 to 30. */
export const LOWEST = Math.log(0.1);
export const CELL = 0.005;
export const CELLS = Math.ceil((Math.log(30) - LOWEST) / CELL) + 1;
/** Cells between two evaluations of the profile; cubics that keep value and slope in between. */
const STRIDE = 20;

/** Profile likelihood of log shape, relative to its highest, on cells from `LOWEST` upwards; `top` is the log of that highest. */
export interface ShapeTable {
  readonly likelihood: Float64Array;
  readonly top: number;
}

export function shapeTable(profile: ShapeProfile): ShapeTable {
  const knots = Math.ceil(CELLS / STRIDE) + 1;
  const width = STRIDE * CELL;
  const logs = new Float64Array(CELLS);
  let left = profile(LOWEST);
  for (let knot = 0; knot + 1 < knots; knot++) {
    const right = profile(LOWEST + (knot + 1) * width);
    for (let k = 0; k < STRIDE && knot * STRIDE + k < CELLS; k++) {
      const x = k / STRIDE;
      const rise = x * x * (3 - 2 * x);
      logs[knot * STRIDE + k] =
        left.value +
        (right.value - left.value) * rise +
        width * (left.slope * x * (1 - x) ** 2 - right.slope * x * x * (1 - x));
    }
    left = right;
  }
  let top = Number.NEGATIVE_INFINITY;
  for (const log of logs) if (log > top) top = log;
  return { likelihood: logs.map((log) => Math.exp(log - top)), top };
}
