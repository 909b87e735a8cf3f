import { mkdirSync, writeFileSync } from "node:fs";
import { chiSquareUpperTail } from "../../analysis/numerics/index.ts";
import type { OneModeRow } from "./oneModeDecision.ts";
import { ALLOWED, type Placed, type ShopRow, trueCost } from "./shopDecision.ts";

const results = new URL("./results/", import.meta.url);
/** Limits set before the study was run. */
const MEDIAN_REGRET = 0.03;
const DEARER = 0.02;
const SHARE_NOT_DEARER = 0.95;
/** A change is advised where it is cheaper than today's practice in this share of the draws; else today's practice stays. */
const SHOWN = 0.95;
const BINS = 10;

interface Advised {
  readonly pays: string;
  readonly cheaperShare: number | null;
  readonly overToday: number | null;
}

/** Writes the tables of the decision study (Markdown and CSV) from what has been run. */
export function writeDecisionTables(shops: readonly ShopRow[], oneMode: readonly OneModeRow[]): void {
  mkdirSync(results, { recursive: true });
  const text = [
    "# Do the decisions hold?",
    "",
    "Simulated records (invented) of known truth; `npm run decision-study`. A failure costs ten planned redresses. ± is twice the",
    "Monte Carlo error. Regret: the share of the true cost at the advised interval that the truly best one would save. Advice: the",
    `interval of least mean cost, where it is cheaper than today's practice in ${percent(SHOWN)} of what the records allow; else today's practice.`,
    "Regret and range are told where an interval is cheaper than the longest one looked at in 95 % of the draws. That they are told",
    "there only was decided after the first 127 fleets had been seen; the threshold is older than the study.",
    "",
    ...sayShops([...shops].sort((a, b) => a.seed - b.seed)),
    ...sayOneMode(oneMode),
  ];
  writeFileSync(new URL("decision-study.md", results), `${text.join("\n")}\n`);
  writeFileSync(
    new URL("decision-study.csv", results),
    [
      "shape,failures,seed,pays,age_h,regret,regret_foretold,in_range,over_today,cheaper_share",
      ...[...oneMode]
        .sort((a, b) => a.shape - b.shape || a.failures - b.failures || a.seed - b.seed)
        .map((row) =>
          [
            row.shape,
            row.failures,
            row.seed,
            row.pays,
            ...[row.age, row.regret, row.regretForetold].map(short),
            row.inRange ?? "",
            ...[row.overToday, row.cheaperShare].map(short),
          ].join(","),
        ),
      "",
    ].join("\n"),
  );
  writeFileSync(new URL("decision-study-shops.csv", results), shopLines(shops).join("\n"));
  console.log(text.join("\n"));
}

/** One line a fleet and horizon of its forecast. */
function shopLines(rows: readonly ShopRow[]): string[] {
  return [
    "seed,failures,pays,age_h,regret,regret_foretold,in_range,limit_h,chance_at_limit,over_today,cheaper_share,months,came,foretold,place,foretold_use_known,place_use_known,last_years_rate",
    ...[...rows]
      .sort((a, b) => a.seed - b.seed)
      .flatMap((row) =>
        row.placed.map(({ months, actual, mean: foretold, place, useKnown, byLastYear }) =>
          [
            ...[row.seed, row.failures, row.pays],
            ...[row.age, row.regret, row.regretForetold].map(short),
            row.inRange ?? "",
            ...[row.limit, row.chanceAtLimit, row.overToday, row.cheaperShare].map(short),
            ...[months, actual],
            ...[foretold, place, useKnown.mean, useKnown.place, byLastYear].map(short),
          ].join(","),
        ),
      ),
    "",
  ];
}

function sayShops(rows: readonly ShopRow[]): string[] {
  if (rows.length === 0) return ["## Whole shops", "", "Not run yet.", ""];
  const shown = rows.filter(({ pays }) => pays === "yes");
  const open = rows.filter(({ pays }) => pays === "not shown");
  return [
    "## Whole shops: records, lives, joint fit of defect and failure, decision",
    "",
    `${rows.length} fleets of 30 tools without effects or dirt; main seal of the axial damper, ${mean(rows.map(({ failures }) => failures)).toFixed(0)} leaks each on average;`,
    `${percent(ALLOWED)} allowed. Under the true laws the best interval is ${trueCost.optimalAge?.toFixed(0)} h.`,
    "",
    "| what | measured | asked | |",
    "|---|---|---|---|",
    `| an interval is shown to pay | ${share(rows.map(({ pays }) => pays === "yes"))} | it does in truth | |`,
    ...sayRegrets("shown", shown),
    `| the same with 30 failures and more | ${sayMedian(shown.filter(({ failures }) => failures >= 30))} | at most ${percent(MEDIAN_REGRET)} | |`,
    ...sayRegrets("not shown, so neither regret nor range is told", open),
    ...sayRegrets("all fleets, were both always told", rows),
    ...sayAgainstToday(rows),
    `| the limit keeps the true chance at or under the allowed | ${share(known(rows.map(({ chanceAtLimit }) => chanceAtLimit)).map((chance) => chance <= ALLOWED))} | 95 % | |`,
    "",
    "## Forecasts made a year before the end, all tools and modes, beside what came",
    "",
    "Place: a place of what came among the futures, drawn evenly where futures tie (randomised probability-integral transform).",
    `Ten bins, chi-square on ${BINS - 1} degrees.`,
    "",
    "| months | use | fleets | failures came | foretold | inside the 90 % range | places in tenths | p of even | error, mean | of last year's rate |",
    "|---|---|---|---|---|---|---|---|---|---|",
    ...[3, 6, 12].flatMap((months) => {
      const own = rows.flatMap(({ placed }) => placed.filter((one) => one.months === months));
      return own.length === 0 ? [] : [sayPlaced(months, "foretold", own), sayPlaced(months, "known", own)];
    }),
    "",
  ];
}

/** Regret of the interval of least mean cost beside the one foretold, and what its range holds. */
function sayRegrets(which: string, rows: readonly ShopRow[]): string[] {
  const regrets = known(rows.map(({ regret }) => regret));
  if (regrets.length === 0) return [`| ${which} | none | | |`];
  const foretold = known(rows.map(({ regretForetold }) => regretForetold));
  const asked = `that foretold, ${percent(mean(foretold))}`;
  const median = quantile(regrets, 0.5);
  return [
    `| ${which} (${regrets.length} fleets): true regret, mean | ${percent(mean(regrets))} ± ${percent(2 * errorOf(regrets))} | ${asked} | ${beside(regrets, foretold)} |`,
    `| true regret, median | ${percent(median)} | at most ${percent(MEDIAN_REGRET)} | ${held(median <= MEDIAN_REGRET)} |`,
    `| true regret, 95 % of fleets below | ${percent(quantile(regrets, 0.95))} | | |`,
    `| the 90 % range holds the best interval | ${share(known(rows.map(({ inRange }) => inRange)))} | 90 % | |`,
  ];
}

const sayMedian = (rows: readonly ShopRow[]): string =>
  rows.length === 0
    ? "no fleet"
    : `${percent(quantile(known(rows.map(({ regret }) => regret)), 0.5))} (${rows.length} fleets)`;

/** Whether the mean true regret is the one foretold, within two Monte Carlo errors. */
function beside(regrets: readonly number[], foretold: readonly number[]): string {
  const apart = mean(regrets) - mean(foretold);
  const error = 2 * Math.hypot(errorOf(regrets), errorOf(foretold));
  return apart > error ? "NOT held, more" : apart < -error ? "less than foretold" : "held";
}

function sayPlaced(months: number, use: "foretold" | "known", own: readonly Placed[]): string {
  const of = (one: Placed) => (use === "known" ? one.useKnown : one);
  const bins = new Array<number>(BINS).fill(0);
  for (const one of own) bins[Math.min(BINS - 1, Math.floor(of(one).place * BINS))]! += 1;
  const expected = own.length / BINS;
  const chiSquare = bins.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  const error = mean(own.map((one) => Math.abs(one.actual - of(one).mean)));
  const rate = mean(own.map((one) => Math.abs(one.actual - one.byLastYear)));
  return `| ${months} | ${use} | ${own.length} | ${mean(own.map(({ actual }) => actual)).toFixed(1)} | ${mean(own.map((one) => of(one).mean)).toFixed(1)} | ${share(own.map((one) => of(one).inside))} | ${bins.join(" ")} | ${chiSquareUpperTail(chiSquare, BINS - 1).toFixed(3)} | ${error.toFixed(2)} | ${rate.toFixed(2)} |`;
}

/** Where a change is not shown to pay the shop stays with what it does, and that is never dearer than itself. */
function dearer(rows: readonly Advised[]): boolean[] {
  return rows.map(
    ({ pays, cheaperShare, overToday }) =>
      pays !== "no" && (cheaperShare ?? 0) >= SHOWN && overToday !== null && overToday > DEARER,
  );
}

const isAdvised = ({ pays, cheaperShare }: Advised): boolean => pays !== "no" && (cheaperShare ?? 0) >= SHOWN;

function sayAgainstToday(rows: readonly Advised[]): string[] {
  const notDearer = dearer(rows).map((is) => !is);
  const always = rows.map(({ overToday }) => (overToday ?? 0) <= DEARER);
  const changed = known(rows.filter(isAdvised).map(({ overToday }) => overToday));
  return [
    `| a change from today's practice is advised | ${share(rows.map(isAdvised))} | | |`,
    `| advice not more than ${percent(DEARER)} dearer than today's practice | ${share(notDearer)} | at least ${percent(SHARE_NOT_DEARER)} | ${held(notDearer.filter(Boolean).length / notDearer.length >= SHARE_NOT_DEARER)} |`,
    `| the same, were the interval always changed to | ${share(always)} | | |`,
    `| true saving where a change is advised, mean | ${changed.length === 0 ? "none" : percent(-mean(changed))} | above 0 | |`,
  ];
}

function sayOneMode(rows: readonly OneModeRow[]): string[] {
  if (rows.length === 0) return ["## One mode that stops jobs", "", "Not run yet.", ""];
  const cells = [...new Set(rows.map(({ shape, failures }) => `${shape} ${failures}`))].sort((a, b) =>
    a.localeCompare(b, "en", { numeric: true }),
  );
  return [
    "## One mode that stops jobs: fit and decision alone",
    "",
    "Weibull lives, planned redresses anywhere between 100 and 300 h before; records end with the failure that completes the number.",
    "Regret, median and range of the sets in which an interval is shown to pay, as the product tells them; against the best",
    "interval up to 374 h. With a shape of 1 no interval pays, and those few sets are the errors.",
    ...sayAllCells(rows),
    `Asked: median regret at most ${percent(MEDIAN_REGRET)} for shapes of 2 and more with 30 or more failures.`,
    "",
    "| shape | failures | sets | pays: yes / not shown / no | regret, mean | foretold | as foretold | median | 90 % range holds | advised | not dearer |",
    "|---|---|---|---|---|---|---|---|---|---|---|",
    ...cells.map((cell) => {
      const own = rows.filter(({ shape, failures }) => `${shape} ${failures}` === cell);
      const count = (pays: OneModeRow["pays"]) => own.filter((row) => row.pays === pays).length;
      const shown = own.filter(({ pays }) => pays === "yes");
      const regrets = known(shown.map(({ regret }) => regret));
      const foretold = known(shown.map(({ regretForetold }) => regretForetold));
      const ranges = known(shown.map(({ inRange }) => inRange));
      const median = quantile(regrets, 0.5);
      const asForetold = regrets.length === 0 ? "none" : beside(regrets, foretold);
      const asked = own[0]!.shape >= 2 && own[0]!.failures >= 30;
      const medianHeld = asked ? `, ${held(median <= MEDIAN_REGRET)}` : "";
      return `| ${own[0]!.shape} | ${own[0]!.failures} | ${own.length} | ${count("yes")} / ${count("not shown")} / ${count("no")} | ${regrets.length === 0 ? "none" : `${percent(mean(regrets))} ± ${percent(2 * errorOf(regrets))}`} | ${foretold.length === 0 ? "none" : percent(mean(foretold))} | ${asForetold} | ${Number.isNaN(median) ? "none" : `${percent(median)}${medianHeld}`} | ${ranges.length === 0 ? "none" : share(ranges)} | ${share(own.map(isAdvised))} | ${share(dearer(own).map((is) => !is))} |`;
    }),
    "",
  ];
}

/** Mean regrets over all cells, by whether an interval is shown to pay. */
function sayAllCells(rows: readonly OneModeRow[]): string[] {
  return (["yes", "not shown"] as const).map((which) => {
    const own = rows.filter(({ pays }) => pays === which);
    const regrets = known(own.map(({ regret }) => regret));
    const foretold = known(own.map(({ regretForetold }) => regretForetold));
    const name = which === "yes" ? "shown" : "not shown (not told)";
    return `All cells, ${name}: ${percent(mean(regrets))} ± ${percent(2 * errorOf(regrets))} against ${percent(mean(foretold))} foretold, ${own.length} sets.`;
  });
}

const known = <T>(values: readonly (T | null)[]): T[] => values.filter((value): value is T => value !== null);
const mean = (values: readonly number[]): number => values.reduce((sum, one) => sum + one, 0) / values.length;
const errorOf = (values: readonly number[]): number => {
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, one) => sum + (one - middle) ** 2, 0)) / values.length;
};
const quantile = (values: readonly number[], at: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(at * values.length))] ?? Number.NaN;
const percent = (value: number): string => `${(100 * value).toFixed(1)} %`;
const short = (value: number | null): string => (value === null ? "" : value.toFixed(4));
const held = (is: boolean): string => (is ? "held" : "NOT held");
const share = (values: readonly boolean[]): string => {
  const p = values.filter(Boolean).length / values.length;
  return `${percent(p)} (± ${(200 * Math.sqrt((p * (1 - p)) / values.length)).toFixed(1)})`;
};
