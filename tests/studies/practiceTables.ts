import { mkdirSync, writeFileSync } from "node:fs";
import { arms, foretoldPowers, type PracticeRow, type PracticeSeed, seedsOf } from "./practiceStudy.ts";

const results = new URL("./results/", import.meta.url);
/** Limits set before the study was run. */
const MOST_FALSE = 29 / 400;
const LEAST_POWER = 0.7;
const COVERAGE = [0.86, 0.94] as const;
const POWER_APART = 0.08;

interface Cell {
  readonly comparison: string;
  readonly seeds: number;
  readonly failures: number;
  readonly truth: number;
  readonly median: number;
  readonly claimed: number;
  readonly cannotTell: number;
  readonly covered: number;
}

/** Writes the tables of the practice study (Markdown and CSV) from what has been run. */
export function writePracticeTables(): void {
  const run = arms.map((arm) => ({ arm, seeds: seedsOf(arm.name) }));
  mkdirSync(results, { recursive: true });
  const cells = run.flatMap(({ arm, seeds }) => cellsOf(seeds).map((cell) => ({ arm: arm.name, ...cell })));
  const header =
    "arm,comparison,seeds,mean_failures,true_times,median_times,claimed,cannot_tell,covered_90,monte_carlo_error";
  const lines = cells.map((cell) =>
    [
      cell.arm,
      cell.comparison,
      cell.seeds,
      cell.failures.toFixed(1),
      cell.truth.toFixed(3),
      cell.median.toFixed(3),
      cell.claimed.toFixed(3),
      cell.cannotTell.toFixed(3),
      cell.covered.toFixed(3),
      errorOf(cell.covered, cell.seeds).toFixed(3),
    ].join(","),
  );
  writeFileSync(new URL("practice-study.csv", results), `${[header, ...lines].join("\n")}\n`);
  writeFileSync(
    new URL("practice-study.md", results),
    [
      "# Does build practice fool its reader?",
      "",
      "Simulated shops (invented), the whole path from records to the screen; `npm run practice-study`. A claim is a comparison that",
      "stands out over the whole screen at a false discovery rate of 5 %. Bounds are 90 % two-sided, adjusted, before selection.",
      "Tool-to-tool spread, well temperature, vibration and size act in every arm.",
      "",
      ...run.flatMap(({ arm, seeds }) => [`## ${arm.name}: ${arm.about}`, "", ...sayArm(arm.name, seeds), ""]),
    ].join("\n"),
  );
}

const keyOf = ({ practice, level, item, mode }: PracticeRow): string =>
  `${practice}${level === null ? "" : ` ${level}`}; ${item}; ${mode}`;

function cellsOf(seeds: readonly PracticeSeed[]): Cell[] {
  const groups = new Map<string, PracticeRow[]>();
  for (const row of seeds.flatMap(({ rows }) => rows)) {
    if (row.truth !== null) groups.set(keyOf(row), [...(groups.get(keyOf(row)) ?? []), row]);
  }
  return [...groups]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([comparison, rows]) => {
      const known = rows.filter(({ value, verdict }) => value !== null && verdict !== "too few failures");
      const covered = known.filter(
        ({ lower, upper, truth }) =>
          (lower === null || lower <= (truth ?? 1)) && (upper === null || upper >= (truth ?? 1)),
      );
      const values = known.map(({ value }) => value ?? 1).sort((a, b) => a - b);
      const share = (count: number) => count / Math.max(1, rows.length);
      return {
        comparison,
        seeds: rows.length,
        failures: rows.reduce((sum, { failures }) => sum + failures, 0) / rows.length,
        truth: rows.reduce((sum, { truth }) => sum + (truth ?? 1), 0) / rows.length,
        median: values[Math.floor(values.length / 2)] ?? Number.NaN,
        claimed: share(rows.filter(({ verdict }) => verdict.endsWith("life")).length),
        cannotTell: share(rows.filter(({ verdict }) => verdict === "cannot tell").length),
        covered: covered.length / Math.max(1, known.length),
      };
    });
}

function sayArm(name: string, seeds: readonly PracticeSeed[]): string[] {
  if (seeds.length === 0) return ["Not run yet."];
  const tested = seeds.reduce((sum, one) => sum + one.tested, 0) / seeds.length;
  const opening = `${seeds.length} seeds, ${tested.toFixed(1)} comparisons tested in each on average.`;
  const cells = cellsOf(seeds);
  if (name === "none") {
    const raised = seeds.filter(({ claims }) => claims > 0).length;
    const { covered, count } = allCovered(seeds);
    return [
      opening,
      "",
      `Seeds that raise any claim: ${raised} of ${seeds.length} (${percent(raised / seeds.length)}; at most ${percent(MOST_FALSE)} allowed): ${raised / seeds.length <= MOST_FALSE ? "held" : "NOT held"}.`,
      `Adjusted bounds that hold 1, over ${count} comparisons (torque on back-off, hardness on leak) with ten failures or more: ${percent(covered)}.`,
    ];
  }
  const shown =
    name === "planted" ? cells : cells.filter(({ comparison }) => comparison.startsWith("corrected torque"));
  const target = cells.find(({ comparison }) => comparison === "corrected torque; joint; back-off");
  return [
    opening,
    "",
    "| comparison | seeds | failures | true times | median | found | cannot tell | bounds hold |",
    "|---|---|---|---|---|---|---|---|",
    ...shown.map(
      (cell) =>
        `| ${cell.comparison} | ${cell.seeds} | ${cell.failures.toFixed(1)} | ${cell.truth.toFixed(2)} | ${cell.median.toFixed(2)} | ${percent(cell.claimed)} | ${percent(cell.cannotTell)} | ${percent(cell.covered)} ± ${percent(errorOf(cell.covered, cell.seeds))} |`,
    ),
    "",
    ...(target === undefined ? [] : [sayTarget(name, target)]),
    ...(name === "planted" ? [saySelected(seeds), sayForetold(target?.claimed ?? 0)] : []),
  ];
}

function sayTarget(name: string, { claimed, cannotTell, covered }: Cell): string {
  if (name === "confounded") return `"Cannot tell" in ${percent(cannotTell)}, a claim in ${percent(claimed)}.`;
  if (name === "overlapping")
    return `The effect is reported in ${percent(claimed)}, "cannot tell" in ${percent(cannotTell)}.`;
  const found = claimed >= LEAST_POWER ? "held" : "NOT held";
  const holds = covered >= COVERAGE[0] && covered <= COVERAGE[1] ? "held" : "NOT held";
  return `The halved life is found in ${percent(claimed)} (at least ${percent(LEAST_POWER)} asked): ${found}. Its bounds cover in ${percent(covered)} (${percent(COVERAGE[0])} to ${percent(COVERAGE[1])} asked): ${holds}.`;
}

/** The power that other shops foretold, each from its own records at the level of its own screen. */
function sayForetold(found: number): string {
  const told = foretoldPowers();
  if (told.length === 0) return "The power was not foretold yet.";
  const say = (powers: readonly number[]) => {
    const mean = powers.reduce((sum, one) => sum + one, 0) / powers.length;
    const error = Math.sqrt(powers.reduce((sum, one) => sum + (one - mean) ** 2, 0)) / powers.length;
    const apart = Math.abs(mean - found);
    return `${percent(mean)} ± ${percent(error)}, ${percent(apart)} from what came (at most ${percent(POWER_APART)} asked): ${apart <= POWER_APART ? "held" : "NOT held"}`;
  };
  return `Power foretold beforehand by ${told.length} other shops, each simulating on its own records: with the shape of the mode stated, ${say(told.map(({ powerAtShape }) => powerAtShape))}; with the shape as its own few dozen failures tell it, ${say(told.map(({ power }) => power))}.`;
}

/** Of the intervals shown because they were selected, the share that covers the truth, where it is known. */
function saySelected(seeds: readonly PracticeSeed[]): string {
  const picked = seeds.flatMap(({ rows }) =>
    rows.filter(
      ({ truth, selectedLower, selectedUpper }) => truth !== null && (selectedLower !== null || selectedUpper !== null),
    ),
  );
  const covered = picked.filter(
    ({ truth, selectedLower, selectedUpper }) =>
      (selectedLower === null || selectedLower <= (truth ?? 1)) &&
      (selectedUpper === null || selectedUpper >= (truth ?? 1)),
  );
  return `Bounds shown because a comparison stood out, truth known: ${covered.length} of ${picked.length} cover (${percent(covered.length / Math.max(1, picked.length))}; 90 % asked).`;
}

function allCovered(seeds: readonly PracticeSeed[]): { readonly covered: number; readonly count: number } {
  const rows = seeds
    .flatMap((one) => one.rows)
    .filter(({ value, failures, verdict }) => value !== null && failures >= 10 && verdict !== "cannot tell");
  const covered = rows.filter(({ lower, upper }) => (lower === null || lower <= 1) && (upper === null || upper >= 1));
  return { covered: covered.length / Math.max(1, rows.length), count: rows.length };
}

const errorOf = (share: number, count: number): number => Math.sqrt((share * (1 - share)) / Math.max(1, count));
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
