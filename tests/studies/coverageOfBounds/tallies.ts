/** What is kept of the replicates of a cell: counts, and the pairs that the bootstrap is read from. */
import { existsSync, readFileSync } from "node:fs";
import { normalCdf, normalQuantile } from "../../../analysis/numerics/index.ts";
import { type Method, type QuantityName, quantities, type Replicate, TAIL } from "./methods.ts";
import { type Cell, looksIn, nameOf } from "./schemes.ts";

/** Chosen on the first set of seeds, reported on the second. */
export const seedSets = ["choosing", "reporting"] as const;
export type SeedSet = (typeof seedSets)[number];

export interface Tally {
  used: number;
  below: number;
  above: number;
}

/** A line of the cache: the replicates from `first` on. */
export interface Chunk {
  readonly first: number;
  readonly replicates: number;
  readonly failures: number;
  readonly noMaximum: Readonly<Record<string, number>>;
  readonly tallies: Readonly<Record<string, Tally>>;
  /** Likelihood-ratio bounds of B10 by observed failures. */
  readonly byFailures: Readonly<Record<string, Tally>>;
  /** Bootstrap: estimate over truth and resample over estimate, logarithms; null where a resample has no maximum. */
  readonly resamples: Readonly<Record<QuantityName, readonly (readonly [number, number])[]>>;
}

export const tallyName = (method: Method, quantity: QuantityName): string => `${method}: ${quantity}`;

export function chunkOf(first: number, replicates: readonly Replicate[]): Chunk {
  const tallies: Record<string, Tally> = {};
  const byFailures: Record<string, Tally> = {};
  const noMaximum: Record<string, number> = {};
  const add = (into: Record<string, Tally>, name: string, side: "below" | "inside" | "above"): void => {
    const tally = into[name] ?? { used: 0, below: 0, above: 0 };
    into[name] = tally;
    tally.used++;
    if (side !== "inside") tally[side]++;
  };
  let failures = 0;
  for (const one of replicates) {
    failures += one.failures;
    if (one.maximum !== "found") noMaximum[one.maximum] = (noMaximum[one.maximum] ?? 0) + 1;
    for (const { method, quantity, side } of one.verdicts) {
      add(tallies, tallyName(method, quantity), side);
      if (method === "likelihood ratio" && quantity === "B10") add(byFailures, String(one.failures), side);
    }
  }
  const short = (value: number): number => Number(value.toPrecision(6));
  const pairs = (quantity: QuantityName) =>
    replicates.flatMap(({ resample }): (readonly [number, number])[] =>
      resample ? [[short(resample[quantity][0]), short(resample[quantity][1])]] : [],
    );
  return {
    first,
    replicates: replicates.length,
    failures,
    noMaximum,
    tallies,
    byFailures,
    resamples: { B10: pairs("B10"), shape: pairs("shape") },
  };
}

const folder = new URL("../../../.cache/coverage-study/", import.meta.url);
export const cacheFile = (set: SeedSet, cell: Cell): URL => new URL(`${set}/${nameOf(cell)}.jsonl`, folder);

/** Chunks that have been run; a line cut short by a kill is left out and run again. */
export function chunksOf(set: SeedSet, cell: Cell): Chunk[] {
  const file = cacheFile(set, cell);
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.endsWith("}"))
    .map((line) => JSON.parse(line) as Chunk);
}

export interface CellResult {
  readonly cell: Cell;
  readonly replicates: number;
  readonly meanFailures: number;
  readonly noMaximum: number;
  readonly tallies: Readonly<Record<string, Tally>>;
  readonly byFailures: Readonly<Record<string, Tally>>;
}

/** All chunks of a cell together, with the bootstrap read from them; null before the first. */
export function cellResult(set: SeedSet, cell: Cell): CellResult | null {
  const chunks = chunksOf(set, cell);
  if (chunks.length === 0) return null;
  const replicates = sum(chunks.map((chunk) => chunk.replicates));
  const tallies = merge(chunks.map((chunk) => chunk.tallies));
  if (looksIn[cell.scheme] > 0)
    for (const name of Object.keys(tallies)) if (name.startsWith("fixed")) delete tallies[name];
  for (const quantity of quantities) {
    const pairs = chunks.flatMap((chunk) => chunk.resamples[quantity]);
    tallies[`by serial, percentile: ${quantity}`] = bootstrapTally(pairs, false);
    tallies[`by serial, bias-corrected: ${quantity}`] = bootstrapTally(pairs, true);
  }
  return {
    cell,
    replicates,
    meanFailures: sum(chunks.map((chunk) => chunk.failures)) / replicates,
    noMaximum: sum(chunks.flatMap((chunk) => Object.values(chunk.noMaximum))) / replicates,
    tallies,
    byFailures: merge(chunks.map((chunk) => chunk.byFailures)),
  };
}

/**
 * Bootstrap with one resample a replicate: log(resample / estimate), pooled over the replicates, stands for the bootstrap
 * distribution that each replicate would have had. Bias-corrected as in `bootstrapBounds`, with one correction for all.
 * Source  Giacomini, Politis & White (2013), Econometric Theory 29, 567-589.
 */
function bootstrapTally(pairs: readonly (readonly [number, number])[], isCorrected: boolean): Tally {
  const moves = Float64Array.from(pairs, ([, move]) => move).sort();
  const belowEstimate = moves.reduce((sum, move) => sum + (move < 0 ? 1 : move === 0 ? 0.5 : 0), 0) / moves.length;
  const shift = isCorrected ? 2 * normalQuantile(belowEstimate) : 0;
  const at = (share: number): number => {
    const place = Math.floor(normalCdf(shift + normalQuantile(share)) * moves.length);
    return moves[Math.min(moves.length - 1, place)] ?? 0;
  };
  const [low, high] = [at(TAIL), at(1 - TAIL)];
  return {
    used: pairs.length,
    below: pairs.filter(([estimate]) => estimate + low > 0).length,
    above: pairs.filter(([estimate]) => estimate + high < 0).length,
  };
}

function merge(all: readonly Readonly<Record<string, Tally>>[]): Record<string, Tally> {
  const merged: Record<string, Tally> = {};
  for (const tallies of all) {
    for (const [name, { used, below, above }] of Object.entries(tallies)) {
      const before = merged[name] ?? { used: 0, below: 0, above: 0 };
      merged[name] = { used: before.used + used, below: before.below + below, above: before.above + above };
    }
  }
  return merged;
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
