/**
 * Do 90 % bounds hold? Simulated fleets by scheme, shape, expected failures and tool-to-tool spread, all methods. Seeded and
 * resumable: one line a cell and 500 fleets in `.cache/coverage-study`; every cell advances before any goes further.
 *
 *   npm run coverage-study                 1,000 fleets a cell for choosing, then 4,000 for reporting, then the tables
 *   npm run coverage-study -- tables       tables, chart and `analysis/study/coverageFigures.ts` from what has been run
 */
import { appendFileSync, mkdirSync } from "node:fs";
import { replicate } from "./coverageOfBounds/methods.ts";
import { cells, endOfFollowing } from "./coverageOfBounds/schemes.ts";
import { writeTables } from "./coverageOfBounds/tables.ts";
import { cacheFile, chunkOf, chunksOf, type SeedSet, seedSets } from "./coverageOfBounds/tallies.ts";

const CHUNK = 500;
const wanted: Readonly<Record<SeedSet, number>> = { choosing: 1_000, reporting: 4_000 };
/** The prior is asked of every fourth fleet: it costs ten times all other methods. */
const PRIOR_EVERY = 4;

function runSet(set: SeedSet): void {
  for (let first = 0; first < wanted[set]; first += CHUNK) {
    cells.forEach((cell, index) => {
      if (chunksOf(set, cell).some((chunk) => chunk.first === first)) return;
      const end = endOfFollowing(cell);
      // 32 bits hold them all: two sets, 150 cells, 10,000 fleets.
      const seedOf = (fleet: number): number => (seedSets.indexOf(set) * cells.length + index) * 10_000 + fleet;
      const replicates = Array.from({ length: CHUNK }, (_, k) =>
        replicate(cell, end, seedOf(first + k), k % PRIOR_EVERY === 0),
      );
      appendFileSync(cacheFile(set, cell), `${JSON.stringify(chunkOf(first, replicates))}\n`);
    });
    console.log(`${set}: ${first + CHUNK} fleets in each of ${cells.length} cells`);
  }
}

function main(asked: readonly string[]): void {
  for (const set of seedSets) {
    mkdirSync(new URL(".", cacheFile(set, cells[0]!)), { recursive: true });
    if (!asked.includes("tables")) runSet(set);
  }
  writeTables();
}

main(process.argv.slice(2));
