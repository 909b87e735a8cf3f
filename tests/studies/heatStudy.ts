/**
 * Does the heat clock tell which modes follow the heat of the wells, and how strongly? Simulated shops (invented) through the
 * derivation, every other effect on; in one arm the hours of seal modes count by temperature with 40 kJ/mol, in the other no
 * mode's do. Seeded and resumable: one line a shop in `.cache/heat-study`.
 *
 *   npm run heat-study              both arms, then tests/studies/results/heat-study.md and .csv
 *   npm run heat-study -- tables    the tables from what has been run
 */
import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { binomialInterval } from "../../analysis/practice/comparisons/binomialInterval.ts";
import { defaultStudy } from "../../analysis/study/definition.ts";
import { heatModes } from "../../analysis/study/heat/heatModes.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import { defaultFleet, effectsOn } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { effectTruths, modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";

const SHOPS = 60;
const FIRST_SEED = 9_000;
const ARMS = ["heat", "no heat"] as const;
/** Joints, pins, bodies have no heat in either arm. */
const hot = new Set(modeTruths.filter(({ thermal }) => thermal).map(({ item, mode }) => `${item}, ${mode}`));

interface ModeRow {
  readonly name: string;
  readonly failures: number;
  readonly follows: boolean;
  readonly adjustedPValue: number;
  /** kJ/mol. */
  readonly energy: number;
  readonly lower: number | null;
  readonly upper: number | null;
}
interface ShopRow {
  readonly arm: (typeof ARMS)[number];
  readonly seed: number;
  /** Those tested. */
  readonly modes: readonly ModeRow[];
}

const folder = new URL("../../.cache/heat-study/", import.meta.url);
const file = new URL("shops.jsonl", folder);

function runShop(arm: ShopRow["arm"], seed: number): ShopRow {
  const { recorded } = simulateFleet({
    ...defaultFleet,
    seed,
    effects: { ...effectsOn, temperature: arm === "heat" },
  });
  const study = defaultStudy("fleet");
  const data = shopData(recorded, study);
  const types = [...new Set(data.items.map(({ tool_type }) => tool_type))];
  const modes = types.flatMap((type) => heatModes(data, study, type)?.modes ?? []);
  const kilo = (value: number | null) => (value === null ? null : value / 1000);
  return {
    arm,
    seed,
    modes: modes.flatMap(({ plain, profile, adjustedPValue, heat }): ModeRow[] =>
      profile === null || adjustedPValue === null
        ? []
        : [
            {
              name: `${plain.item}, ${plain.mode.mode}`,
              failures: plain.failures,
              follows: heat !== null,
              adjustedPValue,
              energy: profile.energy / 1000,
              lower: kilo(profile.lower),
              upper: kilo(profile.upper),
            },
          ],
    ),
  };
}

function rowsRun(): ShopRow[] {
  if (!existsSync(file)) return [];
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.endsWith("}"))
    .map((line) => JSON.parse(line) as ShopRow);
}

const percent = (part: number, whole: number): string => {
  const { lower, upper } = binomialInterval(part, whole, { confidence: 0.95 });
  return `${part} of ${whole}, ${((100 * part) / whole).toFixed(1)} % (${(100 * lower).toFixed(1)}–${(100 * upper).toFixed(1)})`;
};

function tables(shops: readonly ShopRow[]): void {
  const truth = effectTruths.temperature.activationEnergy / 1000;
  const of = (arm: ShopRow["arm"]) => shops.filter((shop) => shop.arm === arm);
  const isHot = ({ name }: ModeRow) => hot.has(name);
  const cold = (shop: ShopRow) => shop.modes.filter((mode) => shop.arm === "no heat" || !isHot(mode));
  const falsely = (list: readonly ShopRow[]) => list.filter((shop) => cold(shop).some(({ follows }) => follows)).length;
  const hotNames = [...new Set(of("heat").flatMap(({ modes }) => modes.filter(isHot).map(({ name }) => name)))].sort();
  const rows = hotNames.map((name) => {
    const own = of("heat").flatMap(({ modes }) => modes.filter((mode) => mode.name === name));
    const sorted = own.map(({ energy }) => energy).sort((a, b) => a - b);
    const held = own.filter(({ lower, upper }) => (lower ?? 0) <= truth && truth <= (upper ?? Infinity)).length;
    const mean = own.reduce((sum, { failures }) => sum + failures, 0) / own.length;
    return `| ${name} | ${mean.toFixed(0)} | ${percent(own.filter(({ follows }) => follows).length, own.length)} | ${sorted[Math.floor(sorted.length / 2)]} | ${percent(held, own.length)} |`;
  });
  const text = [
    "# Does the heat clock tell which modes follow the heat?",
    "",
    `\`npm run heat-study\`. Simulated shops (invented) of ${defaultFleet.serials} serials, every other effect of the generator on. Seal modes count their hours by`,
    `temperature with ${truth} kJ/mol in one arm, no mode does in the other. A mode of ten failures or more is tested; it follows the heat where`,
    "Holm's p over the modes of its tool type is below 5 %. Two tool types a shop, so that up to two chances in twenty of a false claim a shop",
    "are allowed. Shares with exact 95 % bounds.",
    "",
    `Shops in which a mode without heat was said to follow it: with no heat anywhere ${percent(falsely(of("no heat")), of("no heat").length)}; beside modes with heat ${percent(falsely(of("heat")), of("heat").length)}.`,
    "",
    "| mode with heat | failures, mean | said to follow it | median energy, kJ/mol | 90 % bounds hold the true energy |",
    "|---|---|---|---|---|",
    ...rows,
    "",
  ];
  const results = new URL("./results/", import.meta.url);
  writeFileSync(new URL("heat-study.md", results), text.join("\n"));
  writeFileSync(
    new URL("heat-study.csv", results),
    [
      "arm,seed,mode,failures,follows,adjusted_p,energy_kJ_mol,lower,upper",
      ...shops.flatMap(({ arm, seed, modes }) =>
        modes.map((mode) =>
          [
            arm,
            seed,
            `"${mode.name}"`,
            mode.failures,
            mode.follows,
            mode.adjustedPValue.toPrecision(4),
            mode.energy,
            mode.lower ?? "",
            mode.upper ?? "",
          ].join(","),
        ),
      ),
      "",
    ].join("\n"),
  );
  console.log(text.join("\n"));
}

mkdirSync(folder, { recursive: true });
if (!process.argv.includes("tables")) {
  const done = new Set(rowsRun().map(({ arm, seed }) => `${arm} ${seed}`));
  for (let seed = FIRST_SEED; seed < FIRST_SEED + SHOPS; seed++)
    for (const arm of ARMS)
      if (!done.has(`${arm} ${seed}`)) appendFileSync(file, `${JSON.stringify(runShop(arm, seed))}\n`);
}
tables(rowsRun().sort((a, b) => (a.arm === b.arm ? a.seed - b.seed : a.arm < b.arm ? -1 : 1)));
