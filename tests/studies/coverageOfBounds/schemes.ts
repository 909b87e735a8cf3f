/** How the lives of a simulated fleet are followed, and what is true of them. Ages in hours. */
import type { RandomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";
import type { LifeInput } from "../../../analysis/estimation/lifeSample.ts";
import { findRoot, gaussLegendre, inverseGammaP } from "../../../analysis/numerics/index.ts";

export const schemes = ["time-ended", "failure-ended", "staggered entry", "2 looks a life", "6 looks a life"] as const;
export type Scheme = (typeof schemes)[number];

/** One cell of the study. */
export interface Cell {
  readonly scheme: Scheme;
  readonly shape: number;
  readonly expectedFailures: number;
  /** Variance of the gamma multiplier of the hazard, one draw a serial; 0 for serials alike. */
  readonly spread: number;
}

export const cells: readonly Cell[] = schemes.flatMap((scheme) =>
  [0, 0.3].flatMap((spread) =>
    [1, 2, 3].flatMap((shape) =>
      [3, 5, 10, 20, 50].map((expectedFailures): Cell => ({ scheme, shape, expectedFailures, spread })),
    ),
  ),
);

export const nameOf = ({ scheme, shape, expectedFailures, spread }: Cell): string =>
  `${scheme}, shape ${shape}, ${expectedFailures} failures, spread ${spread}`;

const SCALE = 100;
export const LIVES_A_SERIAL = 4;
/** About this share of the lives fails while it is followed. */
const FAILING = 0.3;

export const livesIn = ({ expectedFailures }: Cell): number => Math.round(expectedFailures / FAILING);

/** P(T > t) of a life whose serial is not known: averaged over the spread. */
function survivalOf({ shape, spread }: Cell, age: number): number {
  const hazard = (age / SCALE) ** shape;
  return spread === 0 ? Math.exp(-hazard) : (1 + spread * hazard) ** (-1 / spread);
}

/** The age by which a fraction of all lives has failed, over all serials; the shape that every serial has. */
export function truthOf(cell: Cell): { readonly b10: number; readonly shape: number } {
  const hazard = cell.spread === 0 ? -Math.log(0.9) : (0.9 ** -cell.spread - 1) / cell.spread;
  return { b10: SCALE * hazard ** (1 / cell.shape), shape: cell.shape };
}

export const looksIn: Readonly<Record<Scheme, number>> = {
  "time-ended": 0,
  "failure-ended": 0,
  "staggered entry": 0,
  "2 looks a life": 2,
  "6 looks a life": 6,
};

/**
 * The age E at which following ends (at the latest), such that `expectedFailures` of the lives are expected to have been
 * found failed:
 *   time-ended       every life to E
 *   staggered entry  begun evenly over a window that closes at the cut-off: followed to an age even in (0, E)
 *   k looks          at E (j - U) / k for j = 1..k with one U even in (0, 1) a life; a failure is found at the next look
 */
export function endOfFollowing(cell: Cell): number {
  const wanted = cell.expectedFailures / livesIn(cell);
  const failedBy = (age: number): number => 1 - survivalOf(cell, age);
  const looks = looksIn[cell.scheme];
  const { nodes, weights } = gaussLegendre(40);
  const expected = (end: number): number => {
    if (cell.scheme === "time-ended" || cell.scheme === "failure-ended") return failedBy(end);
    // The last age known is even in (E (k - 1) / k, E); without looks in (0, E).
    const span = looks === 0 ? 1 : 1 / looks;
    return nodes.reduce((sum, node, i) => sum + (weights[i] ?? 0) * failedBy(end * (1 - span * node)), 0);
  };
  return findRoot((end) => expected(end) - wanted, 1e-6, 100 * SCALE);
}

/** One simulated fleet: its lives and the serial of each. */
export function simulate(
  cell: Cell,
  end: number,
  random: RandomStream,
): { readonly lives: readonly LifeInput[]; readonly serials: readonly string[] } {
  const n = livesIn(cell);
  const serials = Array.from({ length: n }, (_, i) => String(Math.floor(i / LIVES_A_SERIAL)));
  let multiplier = 1;
  const failsAt = serials.map((_, i) => {
    if (cell.spread > 0 && i % LIVES_A_SERIAL === 0)
      multiplier = cell.spread * inverseGammaP(1 / cell.spread, random.uniform());
    return SCALE * (-Math.log1p(-random.uniform()) / multiplier) ** (1 / cell.shape);
  });
  return { lives: follow(cell, end, failsAt, random), serials };
}

function follow(cell: Cell, end: number, failsAt: readonly number[], random: RandomStream): readonly LifeInput[] {
  const to = (age: number, last: number): LifeInput =>
    age <= last ? { lower: age, upper: age } : { lower: last, upper: null };
  switch (cell.scheme) {
    case "time-ended":
      return failsAt.map((age) => to(age, end));
    case "failure-ended": {
      const last = [...failsAt].sort((a, b) => a - b)[cell.expectedFailures - 1] ?? end;
      return failsAt.map((age) => to(age, last));
    }
    case "staggered entry":
      return failsAt.map((age) => to(age, end * (1 - random.uniform())));
    default: {
      const looks = looksIn[cell.scheme];
      return failsAt.map((age) => {
        const shift = random.uniform();
        const lookAt = (j: number): number => (j === 0 ? 0 : (end * (j - shift)) / looks);
        const found = Math.max(1, Math.ceil((age * looks) / end + shift));
        return found > looks
          ? { lower: lookAt(looks), upper: null }
          : { lower: lookAt(found - 1), upper: lookAt(found) };
      });
    }
  }
}
