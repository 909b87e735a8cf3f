/**
 * Does build practice fool its reader? Simulated fleets with known truth go through the derivation and the whole screen.
 * Seeded and resumable: one line a seed and arm in `.cache/practice-study`.
 *
 *   npm run practice-study                    all arms, then the tables in tests/studies/results
 *   npm run practice-study -- none confounded these arms only
 *   npm run practice-study -- foretold        the power that other shops of the planted arm foretell
 *   npm run practice-study -- tables          tables from what has been run
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { buildReader } from "../../analysis/practice/explain/buildFacts.ts";
import { powerBySimulation } from "../../analysis/practice/power/powerBySimulation.ts";
import { selectedConfidence } from "../../analysis/practice/screen/selectedConfidence.ts";
import { verdictOf } from "../../analysis/practice/screen/verdict.ts";
import { livesAlike } from "../../analysis/study/buildPractice/livesAlike.ts";
import { modeGroups } from "../../analysis/study/buildPractice/modeGroups.ts";
import { standsOutAt, testPractices } from "../../analysis/study/buildPractice/testPractices.ts";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import {
  cleanFleet,
  effectsOff,
  effectsOn,
  type FleetEffects,
  type FleetOptions,
} from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { effectTruths, modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";
import { writePracticeTables } from "./practiceTables.ts";

/** Tool-to-tool spread and what happens in the wells stay on in every arm. */
const wells: FleetEffects = { ...effectsOff, toolSpread: true, temperature: true, vibration: true, size: true };

const backOff = modeTruths.find(({ mode }) => mode === "back-off")?.law ?? { shape: 1, scale: 1 };
/** Half the life at 0.9 of the corrected design torque against 1: exp(slope 0.1)^(-1 / shape) = 1 / 2. */
export const HALF_LIFE_SLOPE = (Math.LN2 * backOff.shape) / 0.1;

export interface StudyArm {
  readonly name: string;
  readonly about: string;
  readonly seeds: number;
  readonly options: Omit<FleetOptions, "seed">;
  /** Only the lives of this mode; null is the whole shop. */
  readonly mode: string | null;
  /** True multipliers of life by `item: mode: practice`, at the two values that the study compares. */
  readonly truths: (practice: string, item: string, mode: string, at: number, against: number) => number | null;
}

export interface PracticeRow {
  readonly practice: string;
  readonly level: string | null;
  readonly item: string;
  readonly mode: string;
  readonly verdict: string;
  readonly failures: number;
  readonly pValue: number | null;
  readonly value: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly selectedLower: number | null;
  readonly selectedUpper: number | null;
  readonly truth: number | null;
}

export interface PracticeSeed {
  readonly seed: number;
  readonly tested: number;
  readonly claims: number;
  /** Comparisons with a known truth. */
  readonly rows: readonly PracticeRow[];
}

export interface ForetoldPower {
  readonly seed: number;
  readonly failures: number;
  /** At the shape that its own records tell, and at the generator's. */
  readonly power: number;
  readonly powerAtShape: number;
}

const FIRST_SEED = 5_000;
/** Shops that foretell the power, none of them among those that show it. */
const FORETELLING = { first: 4_000, seeds: 80 };
const torqueTruth =
  (slope: number): StudyArm["truths"] =>
  (practice, item, mode, at, against) =>
    practice === "corrected torque" && item === "joint" && mode === "back-off"
      ? Math.exp((slope * (at - against)) / backOff.shape)
      : null;
/** Where nothing does anything every multiplier is 1; bounds of two are drawn, they take most of the time. */
const noTruth: StudyArm["truths"] = (practice, _item, mode) =>
  (practice === "corrected torque" && mode === "back-off") || (practice === "hardness" && mode === "leak") ? 1 : null;

/** Law by law: hazard exp(b x) is life exp(-b x / shape). */
const plantedTruths: StudyArm["truths"] = (practice, item, mode, at, against) => {
  const shape = modeTruths.find((one) => one.item === item && one.mode === mode)?.law.shape ?? 1;
  const step = at - against;
  if (mode === "extrusion" && practice === "gap") return Math.exp((-effectTruths.gapSlope * step) / 0.0254 / shape);
  if (mode === "extrusion" && practice === "hardness") return Math.exp((effectTruths.hardnessSlope * step) / shape);
  if (mode === "back-off" && practice === "threadlocker") return effectTruths.locker ** (-1 / shape);
  return torqueTruth(HALF_LIFE_SLOPE)(practice, item, mode, at, against);
};

const fewYears = { ...cleanFleet, to: "2024-06-30" };
export const arms: readonly StudyArm[] = [
  {
    name: "none",
    about: "no practice does anything",
    seeds: 400,
    options: { ...fewYears, effects: wells },
    mode: null,
    truths: noTruth,
  },
  {
    name: "planted",
    about: "all practice effects on, back-off at 0.9 of the corrected torque lasts half as long",
    seeds: 400,
    options: { ...fewYears, effects: { ...effectsOn, consequences: false }, torqueSlope: HALF_LIFE_SLOPE },
    mode: null,
    truths: plantedTruths,
  },
  {
    name: "confounded",
    about: "each crew makes up one way only, and the low ones work in rougher wells",
    seeds: 100,
    options: {
      ...cleanFleet,
      effects: { ...wells, torque: true, compound: true },
      torqueSlope: HALF_LIFE_SLOPE,
      confounded: { mixedCrews: 0 },
    },
    mode: "back-off",
    truths: torqueTruth(HALF_LIFE_SLOPE),
  },
  {
    name: "overlapping",
    about: "the same, but a quarter of the crews make up either way",
    seeds: 100,
    options: {
      ...cleanFleet,
      effects: { ...wells, torque: true, compound: true },
      torqueSlope: HALF_LIFE_SLOPE,
      confounded: { mixedCrews: 0.25 },
    },
    mode: "back-off",
    truths: torqueTruth(HALF_LIFE_SLOPE),
  },
];

const folder = new URL("../../.cache/practice-study/", import.meta.url);

export const seedsOf = (arm: string): PracticeSeed[] => linesOf(arm);
export const foretoldPowers = (): ForetoldPower[] => linesOf("foretold");

function linesOf<Line>(name: string): Line[] {
  const file = new URL(`${name}.jsonl`, folder);
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.endsWith("}"))
    .map((line) => JSON.parse(line) as Line);
}

function screenOf(arm: StudyArm, seed: number) {
  const fleet = simulateFleet({ ...arm.options, seed });
  const definition = defaultStudy("build practice", { mode: arm.mode });
  const data = shopData(fleet.recorded, definition);
  return testPractices(modeGroups(data, definition.scope), data, definition, buildReader(data.records));
}

/** Power to find a life halved by low torque in a shop like this one, at the level at which its own screen claims. */
function foretell(arm: StudyArm, seed: number): ForetoldPower {
  const screen = screenOf(arm, seed);
  const torque = screen.contrasts.find(
    ({ table, contrast }) =>
      contrast.practice.id === "corrected torque" && table.item === "joint" && table.mode === "back-off",
  );
  if (!torque) return { seed, failures: 0, power: 0, powerAtShape: 0 };
  const { table, contrast, compared, isClaim } = torque;
  const level = standsOutAt(screen, isClaim);
  const powerAt = (shape: number | null) => {
    const goal = { multiplier: 0.5, shape };
    const lives = livesAlike(table, contrast, compared.entanglement.expected, goal, screen.tables, seed);
    if (!lives) return 0;
    return powerBySimulation({ assumed: lives.asNow, column: "practice", level, runs: 100, seed }).power.value;
  };
  return { seed, failures: compared.failures, power: powerAt(null), powerAtShape: powerAt(backOff.shape) };
}

function runSeed(arm: StudyArm, seed: number): PracticeSeed {
  const screen = screenOf(arm, seed);
  const { confidence } = defaultStudy("build practice");
  const { tested, claims } = screen;
  const rows = screen.contrasts.flatMap(({ table, contrast, compared, screenedPValue, isClaim }): PracticeRow[] => {
    const { item, mode } = table;
    const { id: practice } = contrast.practice;
    const truth = arm.truths(practice, item, mode, contrast.at, contrast.against);
    if (truth === null) return [];
    const { failures, adjusted, entanglement } = compared;
    const { shareLeft } = entanglement;
    const value = adjusted?.value ?? null;
    const bounds = adjusted?.at(confidence);
    const selected = isClaim ? adjusted?.at(selectedConfidence(confidence, claims, tested)) : undefined;
    return [
      {
        practice,
        level: contrast.level,
        item,
        mode,
        verdict: verdictOf({ failures, shareLeft, value, claimed: isClaim }),
        failures,
        pValue: screenedPValue,
        value,
        lower: bounds?.lower ?? null,
        upper: bounds?.upper ?? null,
        selectedLower: selected?.lower ?? null,
        selectedUpper: selected?.upper ?? null,
        truth,
      },
    ];
  });
  return { seed, tested, claims, rows };
}

function main(asked: readonly string[]): void {
  mkdirSync(folder, { recursive: true });
  const others = ["tables", "foretold"];
  const unknown = asked.filter((name) => !others.includes(name) && !arms.some((arm) => arm.name === name));
  if (unknown.length > 0)
    throw new Error(`No arm named ${unknown.join(", ")}. Arms: ${arms.map(({ name }) => name).join(", ")}.`);
  const run = (name: string, first: number, seeds: number, one: (seed: number) => { readonly seed: number }) => {
    if (asked.length > 0 && !asked.includes(name)) return;
    const done = new Set(linesOf<{ readonly seed: number }>(name).map(({ seed }) => seed));
    for (let seed = first; seed < first + seeds; seed++)
      if (!done.has(seed)) appendFileSync(new URL(`${name}.jsonl`, folder), `${JSON.stringify(one(seed))}\n`);
    console.log(`${name}: ${seeds} seeds`);
  };
  const planted = arms.find(({ name }) => name === "planted")!;
  run("foretold", FORETELLING.first, FORETELLING.seeds, (seed) => foretell(planted, seed));
  for (const arm of arms) run(arm.name, FIRST_SEED, arm.seeds, (seed) => runSeed(arm, seed));
  if (asked.length === 0 || asked.includes("tables")) writePracticeTables();
}

if (process.argv[1]?.endsWith("practiceStudy.ts")) main(process.argv.slice(2));
