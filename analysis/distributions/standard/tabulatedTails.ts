import { type StandardLaw, writeSix } from "./standardLaw.ts";

/** Cells on either side of the middle; a w beyond them is computed as it comes. */
const CELLS = 96;
/** Width of a cell, in the lengths over which the tails change. */
const WIDTH = 0.5;
/** Points a cell: the polynomial through them misses the tails by less than 1e-13. */
const POINTS = 14;
/** The value and its two derivatives by q; the others follow from these and the density. */
const KEPT = 3;

const EMPTY = 0;
const FILLED = 1;
/** A tail in it is 0 in doubles, or the density has a corner there: computed as it comes. */
const LEFT_OUT = 2;

/**
 * The same law with its tails read from polynomials in w, laid for each q when it is first asked for: for likelihoods of thousands of lives, all
 * at one q. A cell holds the same numbers in whatever order it is asked.
 *
 * @param law  With `tailsAt`, which says where its tails change and how fast.
 * Accuracy    Absolute 1e-12 on the logarithm of a tail and its derivatives, relative where they are large.
 * Source      Interpolation at Chebyshev points, Trefethen (2013), Approximation Theory and Approximation Practice, ch. 2-8.
 */
export function tabulatedTails(law: StandardLaw): StandardLaw {
  const { tailsAt } = law;
  if (!tailsAt) return law;
  const density = new Float64Array(6);
  const kept = new Float64Array(KEPT);
  let q = Number.NaN;
  let middle = 0;
  let width = 1;
  const above = table();
  const below = table();

  const tail = (w: number, at: number, { state, coefficients }: Table, isAbove: boolean, out: Float64Array): void => {
    const direct = isAbove ? law.logSurvival : law.logFailed;
    if (at !== q) {
      q = at;
      const { middle: center, length } = tailsAt(q);
      middle = center;
      width = WIDTH * length;
      above.state.fill(EMPTY);
      below.state.fill(EMPTY);
    }
    const place = (w - middle) / width + CELLS;
    const cell = Math.floor(place);
    if (!(cell >= 0 && cell < 2 * CELLS)) {
      direct(w, q, out);
      return;
    }
    if (state[cell] === EMPTY) {
      const isFilled = fill(direct, q, middle + (cell - CELLS) * width, width, coefficients, cell * KEPT * POINTS, out);
      state[cell] = isFilled ? FILLED : LEFT_OUT;
    }
    if (state[cell] === LEFT_OUT) {
      direct(w, q, out);
      return;
    }
    read(coefficients, cell * KEPT * POINTS, 2 * (place - cell) - 1, kept);
    law.logDensity(w, q, density);
    const slope = (isAbove ? -1 : 1) * Math.exp(density[0]! - kept[0]!);
    const byQ = kept[1]!;
    writeSix(out, kept[0]!, slope, byQ, slope * (density[1]! - slope), slope * (density[2]! - byQ), kept[2]!);
  };

  return {
    ...law,
    logSurvival: (w, at, out) => tail(w, at, above, true, out),
    logFailed: (w, at, out) => tail(w, at, below, false, out),
  };
}

interface Table {
  readonly state: Uint8Array;
  readonly coefficients: Float64Array;
}

const table = (): Table => ({
  state: new Uint8Array(2 * CELLS),
  coefficients: new Float64Array(2 * CELLS * KEPT * POINTS),
});

/** cos(pi k (j + 1/2) / POINTS): values at the Chebyshev points to coefficients. */
const cosines = Float64Array.from({ length: POINTS * POINTS }, (_, i) =>
  Math.cos((Math.PI * Math.floor(i / POINTS) * ((i % POINTS) + 0.5)) / POINTS),
);
const samples = new Float64Array(KEPT * POINTS);

function fill(
  direct: StandardLaw["logSurvival"],
  q: number,
  from: number,
  width: number,
  coefficients: Float64Array,
  place: number,
  six: Float64Array,
): boolean {
  for (let j = 0; j < POINTS; j++) {
    direct(from + 0.5 * width * (1 + cosines[POINTS + j]!), q, six);
    samples[j] = six[0]!;
    samples[POINTS + j] = six[2]!;
    samples[2 * POINTS + j] = six[5]!;
  }
  for (let which = 0; which < KEPT; which++) {
    for (let k = 0; k < POINTS; k++) {
      let sum = 0;
      for (let j = 0; j < POINTS; j++) sum += samples[which * POINTS + j]! * cosines[k * POINTS + j]!;
      coefficients[place + which * POINTS + k] = (sum * (k === 0 ? 1 : 2)) / POINTS;
    }
    const largest = Math.max(...samples.subarray(which * POINTS, (which + 1) * POINTS).map(Math.abs));
    // Where the last coefficients have not died away, or nothing is finite, the polynomial is not the tail.
    const last = Math.abs(coefficients[place + which * POINTS + POINTS - 1]!);
    if (!(last <= 1e-13 * Math.max(1, largest))) return false;
  }
  return true;
}

/** Clenshaw's sums of the three polynomials at x in [-1, 1]. */
function read(coefficients: Float64Array, place: number, x: number, kept: Float64Array): void {
  const double = 2 * x;
  for (let which = 0; which < KEPT; which++) {
    const first = place + which * POINTS;
    let one = 0;
    let two = 0;
    for (let k = POINTS - 1; k > 0; k--) {
      const next = coefficients[first + k]! + double * one - two;
      two = one;
      one = next;
    }
    kept[which] = coefficients[first]! + x * one - two;
  }
}
