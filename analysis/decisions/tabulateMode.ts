import type { WeibullParameters } from "../distributions/weibull.ts";
import type { ModeLaw } from "./redressModel.ts";

/** A mode on equally spaced ages 0, step, 2 step ... */
export interface TabulatedMode {
  /** P(has not stopped the job by the age). All 1 for a hidden mode. */
  readonly running: Float64Array;
  /** P(there to be found at the age, the job not stopped by it). All 0 for an evident mode. */
  readonly present: Float64Array;
}

/**
 * Tabulates a mode at ages 0, step, ..., cells * step. For a linked pair
 *   P(L > t) = S_D(t) + integral over (0, t) of S_H(t - u) dF_D(u)
 * is summed over the cells, exact in F_D, S_H averaged over each cell by Simpson's rule.
 *
 * @param cells  Even or odd, >= 1; 200 keep the sum within 1e-4 for shapes from 0.7 to 5.
 * Source        Christer & Waller (1984), J. Oper. Res. Soc. 35, 401-406, for the model.
 */
export function tabulateMode(law: ModeLaw, step: number, cells: number): TabulatedMode {
  if (law.kind === "evident")
    return { running: survivalAt(law.life, step, cells), present: new Float64Array(cells + 1) };
  if (law.kind === "hidden") {
    const sound = survivalAt(law.life, step, cells);
    return { running: new Float64Array(cells + 1).fill(1), present: sound.map((share) => 1 - share) };
  }
  const sound = survivalAt(law.defect, step, cells);
  const ends = survivalAt(law.delay, step, cells);
  const middles = survivalAt(law.delay, step, cells - 1, 0.5);
  const held = Float64Array.from(middles, (middle, cell) => (ends[cell]! + 4 * middle + ends[cell + 1]!) / 6);
  const present = new Float64Array(cells + 1);
  for (let age = 1; age <= cells; age++) {
    let sum = 0;
    for (let cell = 0; cell < age; cell++) sum += (sound[cell]! - sound[cell + 1]!) * held[age - 1 - cell]!;
    present[age] = sum;
  }
  return { running: present.map((share, age) => Math.min(1, share + sound[age]!)), present };
}

function survivalAt({ shape, scale }: WeibullParameters, step: number, cells: number, from = 0): Float64Array {
  return Float64Array.from({ length: cells + 1 }, (_, age) => Math.exp(-((((age + from) * step) / scale) ** shape)));
}
