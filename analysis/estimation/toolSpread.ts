import { randomStream } from "./bootstrap/randomStream.ts";

/** Failures and hours of one tool on one side of a change, in one stratum (a band of age of one mode). */
export interface ToolCell {
  readonly tool: string;
  readonly stratum: string;
  readonly side: "before" | "after";
  readonly failures: number;
  readonly hours: number;
}

export interface ToolSpread {
  /** With hours. */
  readonly tools: number;
  /** Pearson's statistic of failures by tool over its mean under chance alone: 1 where tools differ as chance makes them. */
  readonly factor: number;
  /** Of "tools differ by chance alone". */
  readonly pValue: number;
}

/** Allocations of the failures to tools drawn for the p-value. */
const DRAWS = 999;

/**
 * Whether failures lie on tools more unevenly than their hours and chance make them.
 *   X2 = sum over tools of (O - E)^2 / E,   E = sum over strata and sides of m h / H
 * with m failures and H hours of a stratum and side, h hours of the tool in it. Given m, failures fall on tools as
 * multinomial trials with chances h / H, whatever the rates of strata and sides: so the mean of X2 is
 * sum over tools of (sum m (h / H) (1 - h / H)) / E, and the p-value is exact (by drawing), also where E is far below 5.
 *
 * @returns  Fewer than two tools, or no failures: factor 1, p-value 1.
 * Source    McCullagh & Nelder (1989), Generalized Linear Models, 2nd ed., ch. 4 and 6 (dispersion by Pearson's statistic);
 *           Breslow & Day (1987), IARC 82, ch. 3 (strata); Barnard (1963), J. R. Statist. Soc. B 25, 294 (p-value by
 *           drawing: (1 + as large) / (1 + draws)). Places from memory.
 */
export function toolSpread(cells: readonly ToolCell[], seed: number): ToolSpread {
  const tools = [...new Set(cells.filter(({ hours }) => hours > 0).map(({ tool }) => tool))];
  const place = new Map(tools.map((tool, at) => [tool, at]));
  const strata = strataOf(cells, place);
  const [observed, expected, variance] = [tools, tools, tools].map((of) => new Float64Array(of.length)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (const { tools: inside, hours, sum, failures, total } of strata) {
    inside.forEach((at, index) => {
      const share = hours[index]! / sum;
      observed[at]! += failures[index]!;
      expected[at]! += total * share;
      variance[at]! += total * share * (1 - share);
    });
  }
  const pearson = (counts: Float64Array): number =>
    counts.reduce((x, count, at) => x + (expected[at]! > 0 ? (count - expected[at]!) ** 2 / expected[at]! : 0), 0);
  const mean = variance.reduce((x, one, at) => x + (expected[at]! > 0 ? one / expected[at]! : 0), 0);
  if (!(mean > 0)) return { tools: tools.length, factor: 1, pValue: 1 };

  const statistic = pearson(observed);
  const stream = randomStream(seed);
  const counts = new Float64Array(tools.length);
  let asLarge = 0;
  for (let draw = 0; draw < DRAWS; draw++) {
    counts.fill(0);
    for (const stratum of strata)
      for (let failure = 0; failure < stratum.total; failure++)
        counts[stratum.tools[placeIn(stratum.upTo, stream.uniform() * stratum.sum)]!]! += 1;
    // Ties are rounding's, not chance's.
    if (pearson(counts) >= statistic * (1 - 1e-9)) asLarge += 1;
  }
  return { tools: tools.length, factor: statistic / mean, pValue: (1 + asLarge) / (1 + DRAWS) };
}

interface Stratum {
  readonly tools: readonly number[];
  readonly hours: readonly number[];
  readonly failures: readonly number[];
  /** Hours summed up to and with each tool. */
  readonly upTo: readonly number[];
  readonly sum: number;
  readonly total: number;
}

/** Strata of each side that hold failures. */
function strataOf(cells: readonly ToolCell[], place: ReadonlyMap<string, number>): readonly Stratum[] {
  const groups = new Map<string, ToolCell[]>();
  for (const cell of cells) {
    if (!(cell.hours > 0)) continue;
    const name = JSON.stringify([cell.stratum, cell.side]);
    const group = groups.get(name);
    if (group) group.push(cell);
    else groups.set(name, [cell]);
  }
  return [...groups.values()].flatMap((group): Stratum[] => {
    const hours = group.map((cell) => cell.hours);
    let sum = 0;
    const upTo = hours.map((one) => {
      sum += one;
      return sum;
    });
    const failures = group.map((cell) => cell.failures);
    const total = failures.reduce((all, one) => all + one, 0);
    return total === 0
      ? []
      : [{ tools: group.map(({ tool }) => place.get(tool) ?? 0), hours, failures, upTo, sum, total }];
  });
}

/** First place whose sum is above. */
function placeIn(upTo: readonly number[], above: number): number {
  let [low, high] = [0, upTo.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (upTo[middle]! > above) high = middle;
    else low = middle + 1;
  }
  return low;
}
