/**
 * Do the decisions hold? Simulated records of known truth: what the advised interval costs over the best one and over today's
 * practice, whether the limit keeps the true chance under the allowed one, and where what came lies among the futures foretold.
 * Seeded and resumable: one line a seed and arm in `.cache/decision-study`.
 *
 *   npm run decision-study                both arms, then tests/studies/results/decision-study.md and .csv
 *   npm run decision-study -- shop        whole shops: records, derivation, fit, decision, forecast from past dates
 *   npm run decision-study -- one-mode    one mode and a cost: the decision alone, by shape and number of failures
 *   npm run decision-study -- tables      the tables from what has been run
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { writeDecisionTables } from "./decisionTables.ts";
import { type OneModeRow, oneModeCells, runOneMode } from "./oneModeDecision.ts";
import { runShop, type ShopRow } from "./shopDecision.ts";

const SHOPS = 200;
const FLEETS_A_CELL = 200;
const FIRST_SEED = 5_000;
const folder = new URL("../../.cache/decision-study/", import.meta.url);

function rowsOf<Row>(name: string): Row[] {
  const file = new URL(`${name}.jsonl`, folder);
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.endsWith("}"))
    .map((line) => JSON.parse(line) as Row);
}

function append(name: string, row: object): void {
  appendFileSync(new URL(`${name}.jsonl`, folder), `${JSON.stringify(row)}\n`);
}

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !["shop", "one-mode", "tables"].includes(name));
if (unknown.length > 0) throw new Error(`No arm named ${unknown.join(", ")}. Arms: shop, one-mode; or tables.`);
mkdirSync(folder, { recursive: true });

if (asked.length === 0 || asked.includes("one-mode")) {
  const done = new Set(
    rowsOf<OneModeRow>("one-mode").map(({ shape, failures, seed }) => `${shape} ${failures} ${seed}`),
  );
  for (const cell of oneModeCells)
    for (let seed = FIRST_SEED; seed < FIRST_SEED + FLEETS_A_CELL; seed++)
      if (!done.has(`${cell.shape} ${cell.failures} ${seed}`)) append("one-mode", runOneMode(cell, seed));
  console.log("one-mode: done");
}
if (asked.length === 0 || asked.includes("shop")) {
  const done = new Set(rowsOf<ShopRow>("shop").map(({ seed }) => seed));
  for (let seed = FIRST_SEED; seed < FIRST_SEED + SHOPS; seed++) if (!done.has(seed)) append("shop", runShop(seed));
  console.log("shop: done");
}
writeDecisionTables(rowsOf<ShopRow>("shop"), rowsOf<OneModeRow>("one-mode"));
