import type { NamedColumn } from "./fitter.ts";
import { weightedLeastSquares } from "./weightedLeastSquares.ts";

/** What may differ along with a practice: one name or number a life, null where nothing is written. */
export interface Companion {
  readonly what: string;
  readonly values: readonly (number | string | null)[];
}

/** How a practice lies among everything else that differed. */
export interface Entanglement {
  /** What the practice would be by everything else: held in the adjusted fit. Null where nothing else differs. */
  readonly expected: NamedColumn | null;
  /** Share of the practice's spread that everything else leaves unexplained, 0 to 1. */
  readonly shareLeft: number;
  /** Share that each explains on its own, largest first. */
  readonly explained: readonly { readonly what: string; readonly share: number }[];
}

/** Lives a column of everything else must have behind it: fewer, and the columns explain any practice by chance. */
const LIVES_PER_COLUMN = 8;
/** A name held by fewer lives counts with "others". */
const FEWEST = 5;

/**
 * Regresses a practice on everything else that differed, so that an effect can be read where the practice varied while the
 * rest did not. Adjusting for the practice as expected from the rest adjusts for all of the rest with one column, which is
 * what a shop with ten failures can afford; in a linear model it is exactly the same.
 *
 * @param practice  One value a life.
 * @param weights   Failures that a life was expected to have: where it lived longer, it tells more.
 * @param order     Companions, the ones that must be held first; those beyond one column in eight lives are left out.
 * Source           Frisch & Waugh (1933), Econometrica 1, 387-401 (held by its projection); Hirano & Imbens (2004) for the
 *                  generalised propensity score; Hansen (2008), Biometrika 95, 481-488, on scores where outcomes are few.
 */
export function whatElseDiffered(
  practice: Float64Array,
  order: readonly Companion[],
  weights: Float64Array,
): Entanglement {
  const n = practice.length;
  const room = Math.floor(n / LIVES_PER_COLUMN);
  const columns: Float64Array[] = [];
  const explained: { what: string; share: number }[] = [];
  for (const { what, values } of order) {
    const own = companionColumns(values);
    if (own.length === 0 || columns.length + own.length > room) continue;
    columns.push(...own);
    explained.push({
      what,
      share: adjustedShare(1 - weightedLeastSquares(practice, own, weights).shareLeft, n, own.length),
    });
  }
  const { fitted, shareLeft } = weightedLeastSquares(practice, columns, weights);
  const left = 1 - adjustedShare(1 - shareLeft, n, columns.length);
  return {
    expected: columns.length > 0 && shareLeft < 1 ? { name: "as expected from the rest", values: fitted } : null,
    shareLeft: left,
    explained: explained.sort((a, b) => b.share - a.share),
  };
}

/** What chance alone explains with so many columns is taken off (Ezekiel 1930, adjusted coefficient of determination). */
const adjustedShare = (share: number, n: number, columns: number): number =>
  share > 1 - 1e-9 ? 1 : Math.max(0, 1 - ((1 - share) * (n - 1)) / Math.max(1, n - 1 - columns));

/** A number keeps its place, the mean where nothing is written, with a column that says so; a name becomes a column a name. */
export function companionColumns(values: readonly (number | string | null)[]): Float64Array[] {
  const numbers = values.filter((value) => typeof value === "number");
  if (numbers.length > 0) {
    const mean = numbers.reduce((sum, value) => sum + value, 0) / numbers.length;
    const filled = Float64Array.from(values, (value) => (typeof value === "number" ? value : mean));
    const blank = Float64Array.from(values, (value) => (typeof value === "number" ? 0 : 1));
    return [filled, blank].filter(varies);
  }
  const counts = new Map<string, number>();
  for (const value of values) counts.set(String(value), (counts.get(String(value)) ?? 0) + 1);
  const names = [...counts]
    .filter(([, count]) => count >= FEWEST)
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  // The commonest name is what the others are held against.
  return names.slice(1).map(([name]) => Float64Array.from(values, (value) => (String(value) === name ? 1 : 0)));
}

const varies = (values: Float64Array): boolean => values.some((value) => value !== values[0]);
