import { factorPositive } from "./factorPositive.ts";

/**
 * Standard error of the effect across a column's whole range above which the lives bound it on one side only.
 * At a maximum "at infinity" the information dies away with every step of the search, long before this.
 */
const LARGEST_ERROR = 1e3;
/** Makes a singular information invertible; the error along a direction without information comes out as 3e3. */
const RIDGE = 1e-7;

/**
 * Coefficients about which the information where a search stopped says nothing: they run off, for the likelihood has no maximum.
 *
 * @param information  m x m, of standardised columns, in units in which log lives (log hazards) spread by about 1.
 * @returns            Indexes of columns, from 0; `first` is the place of the first coefficient in the matrix.
 */
export function unboundedCoefficients(information: Float64Array, m: number, first: number, columns: number): number[] {
  const lifted = Float64Array.from(information);
  for (let i = 0; i < m; i++) lifted[i * m + i]! += RIDGE;
  const inverse = factorPositive(lifted, m)?.inverse();
  if (!inverse) return [];
  const all = Array.from({ length: columns }, (_, j) => j);
  return all.filter((j) => !(inverse[(first + j) * m + first + j]! < LARGEST_ERROR ** 2));
}
