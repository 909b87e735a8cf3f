/** A line on a grid of ages with its bounds. All arrays have the same length or are shorter; ages ascend. */
export interface GridLine {
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
}

export interface ReadPoint {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * A line with its bounds at one age, linearly between the grid ages: the one way to read a result between its points.
 *
 * @returns  null outside the grid, or where the line ends before the age.
 */
export function readLine(ages: readonly number[], line: GridLine, age: number): ReadPoint | null {
  const next = ages.findIndex((at) => at >= age);
  if (next < 0 || next >= line.value.length) return null;
  const before = Math.max(0, next - 1);
  const [from, to] = [ages[before]!, ages[next]!];
  if (age < from) return null;
  const share = to === from ? 0 : (age - from) / (to - from);
  const between = (values: readonly number[]): number => values[before]! + share * (values[next]! - values[before]!);
  return { value: between(line.value), lower: between(line.lower), upper: between(line.upper) };
}
