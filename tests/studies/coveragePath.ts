/**
 * Coverage of the main path: simulated fleets with known truth go through the derivation and the fit, and the bounds of
 * B10 are held against the truth. Seeded and resumable: one line a seed and arm in `.cache/coverage-path`.
 *
 *   npm run coverage-path                 all arms, then the tables in tests/studies/results
 *   npm run coverage-path -- off spread   these arms only
 *   npm run coverage-path -- tables       tables from what has been run
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { weibull } from "../../analysis/distributions/weibull.ts";
import { fitWeibull } from "../../analysis/estimation/fitWeibull.ts";
import { fitLinked } from "../../analysis/estimation/linked/fitLinked.ts";
import { boundsOnContour, lawContour } from "../../analysis/estimation/linked/lawContour.ts";
import { weibullBounds } from "../../analysis/estimation/profileBounds.ts";
import { deriveLives } from "../../analysis/lives/deriveLives.ts";
import type { Life } from "../../analysis/lives/types.ts";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { linkedHistories } from "../../analysis/study/linkedHistories.ts";
import { sampleOf, settleAges } from "../../analysis/study/settleAges.ts";
import { type ShopData, shopData } from "../../analysis/study/shopData.ts";
import { cleanFleet, dirtOff, effectsOff, type FleetOptions } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { writeTables } from "./coverageTables.ts";
import { throughTheSheets } from "./throughTheSheets.ts";
import { truthOf } from "./truthOf.ts";

export interface Arm {
  readonly name: string;
  readonly seeds: number;
  readonly options: Omit<FleetOptions, "seed">;
}

/** One fit of one mode in one fleet. `lower` or `upper` null: that end is open, which covers. */
export interface CoverageRow {
  readonly seed: number;
  readonly mode: string;
  readonly failures: number;
  readonly lives: number;
  readonly maximum: string;
  readonly b10: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly truth: number;
}

export const CONFIDENCE = 0.9;
const FIRST_SEED = 1_000;
/** Fleets that also go through written sheets, the reader and the mapping, and must give equal lives. */
const THROUGH_SHEETS = 25;

export const arms: readonly Arm[] = [
  { name: "off", seeds: 500, options: cleanFleet },
  { name: "spread", seeds: 200, options: { ...cleanFleet, effects: { ...effectsOff, toolSpread: true } } },
  ...Object.keys(dirtOff).map((kind) => ({
    name: kind,
    seeds: 100,
    options: { ...cleanFleet, dirt: { ...dirtOff, [kind]: true } },
  })),
];

export const folder = new URL("../../.cache/coverage-path/", import.meta.url);

export function rowsOf(arm: string): CoverageRow[] {
  const file = new URL(`${arm}.jsonl`, folder);
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.endsWith("}"))
    .flatMap((line) => (JSON.parse(line) as { rows: CoverageRow[] }).rows);
}

function doneSeeds(arm: string): Set<number> {
  const file = new URL(`${arm}.jsonl`, folder);
  if (!existsSync(file)) return new Set();
  const lines = readFileSync(file, "utf8").split("\n");
  return new Set(lines.filter((line) => line.endsWith("}")).map((line) => (JSON.parse(line) as { seed: number }).seed));
}

function runSeed(arm: Arm, seed: number): CoverageRow[] {
  const fleet = simulateFleet({ ...arm.options, seed });
  const definition = defaultStudy("item life");
  const data = shopData(fleet.recorded, definition);
  const groups = new Map<string, Life[]>();
  for (const life of data.derived.lives) {
    const name = `${life.toolType} / ${life.item} / ${life.mode}`;
    groups.set(name, [...(groups.get(name) ?? []), life]);
  }
  if (arm.name === "off" && seed < FIRST_SEED + THROUGH_SHEETS) {
    const lives = deriveLives(throughTheSheets(fleet), { cutoff: null }).lives;
    if (JSON.stringify(lives) !== JSON.stringify(data.derived.lives))
      throw new Error(`seed ${seed}: lives through the sheets differ`);
  }
  return [...groups].flatMap(([name, lives]): CoverageRow[] => {
    const [first] = lives;
    if (!first) return [];
    const truth = truthOf(first.item, first.mode, data.items).quantile(0.1);
    const failures = lives.filter(({ kind }) => kind !== "right").length;
    const base = { seed, failures, lives: lives.length, truth };
    const leadsTo = data.modesOf(first.toolType, first.item).find(({ mode }) => mode === first.mode)?.leadsTo ?? null;
    const alone = { ...base, ...boundsAlone(lives, data) };
    if (leadsTo === null) return [{ ...alone, mode: name }];
    const led = groups.get(`${first.toolType} / ${first.item} / ${leadsTo}`) ?? [];
    return [
      { ...base, ...boundsJointly(lives, led, data), mode: `${name} (jointly with ${leadsTo})` },
      { ...alone, mode: `${name} (alone, not used by the product)` },
    ];
  });
}

type Bounds = Pick<CoverageRow, "maximum" | "b10" | "lower" | "upper">;

function boundsAlone(lives: readonly Life[], data: ShopData): Bounds {
  const sample = sampleOf(settleAges(lives, "shop rate", data.hoursPerDay));
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") return { maximum: fit.maximum, b10: null, lower: null, upper: null };
  const { lower, upper } = weibullBounds(fit, sample, { kind: "quantile", failedFraction: 0.1 }, CONFIDENCE);
  return { maximum: "found", b10: weibull(fit).quantile(0.1), lower, upper };
}

function boundsJointly(defects: readonly Life[], failures: readonly Life[], data: ShopData): Bounds {
  const { histories } = linkedHistories(defects, failures, data, "shop rate");
  const fit = fitLinked(histories);
  if (fit.maximum !== "found") return { maximum: fit.maximum, b10: null, lower: null, upper: null };
  const b10 = (law: { shape: number; scale: number }) => weibull(law).quantile(0.1);
  return {
    maximum: "found",
    b10: b10(fit.defect),
    ...boundsOnContour(lawContour(fit, histories, "defect", CONFIDENCE), b10),
  };
}

function main(asked: readonly string[]): void {
  mkdirSync(folder, { recursive: true });
  const unknown = asked.filter((name) => name !== "tables" && !arms.some((arm) => arm.name === name));
  if (unknown.length > 0)
    throw new Error(`No arm named ${unknown.join(", ")}. Arms: ${arms.map(({ name }) => name).join(", ")}.`);
  for (const arm of arms) {
    if (asked.length > 0 && !asked.includes(arm.name)) continue;
    const done = doneSeeds(arm.name);
    for (let seed = FIRST_SEED; seed < FIRST_SEED + arm.seeds; seed++) {
      if (done.has(seed)) continue;
      const rows = runSeed(arm, seed);
      appendFileSync(new URL(`${arm.name}.jsonl`, folder), `${JSON.stringify({ seed, rows })}\n`);
    }
    console.log(`${arm.name}: ${arm.seeds} seeds`);
  }
  if (asked.length === 0 || asked.includes("tables")) writeTables();
}

if (process.argv[1]?.endsWith("coveragePath.ts")) main(process.argv.slice(2));
