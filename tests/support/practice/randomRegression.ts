import type { LifeInput } from "../../../analysis/estimation/lifeSample.ts";
import type { DesignMatrix } from "../../../analysis/practice/types.ts";
import { type Mix, randomLives, uniforms } from "../estimation/randomLives.ts";

/** A design matrix from rows written out. */
export function designOf(names: readonly string[], rows: readonly (readonly number[])[]): DesignMatrix {
  return {
    rows: rows.length,
    names,
    values: Float64Array.from(rows.flat()),
    terms: names.map((name, j) => ({ name, columns: [j] })),
  };
}

export interface RandomRegression {
  readonly lives: readonly LifeInput[];
  readonly design: DesignMatrix;
  readonly tools: readonly string[];
}

/** Invented lives with a factor `worn` (0 or 1) that shortens life by a third and a number `torque` that does nothing. */
export function randomRegression(seed: number, n: number, mix: Mix): RandomRegression {
  const random = uniforms(seed * 7 + 1);
  const rows = Array.from({ length: n }, () => [random() < 0.4 ? 1 : 0, 3000 + 500 * random()]);
  const shrink = rows.map(([worn = 0]) => (worn === 1 ? 2 / 3 : 1));
  const lives = randomLives(seed, n, mix).map((life, i) => {
    const by = shrink[i] ?? 1;
    return {
      lower: life.lower * by,
      upper: life.upper === null ? null : life.upper * by,
      entry: (life.entry ?? 0) * by,
      count: 1 + (i % 3),
      ...(life.lowerHigh === undefined ? {} : { lowerHigh: life.lowerHigh * by }),
      ...(life.upperHigh === undefined || life.upperHigh === null ? {} : { upperHigh: life.upperHigh * by }),
    };
  });
  const tools = rows.map((_, i) => `T-${i % Math.max(2, Math.floor(n / 4))}`);
  return { lives, design: designOf(["worn", "torque"], rows), tools };
}
