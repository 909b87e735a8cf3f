/** Writes what the study found: every cell as CSV, means as Markdown, lower tails as a picture, and the figures the product quotes. */
import { mkdirSync, writeFileSync } from "node:fs";
import { toSvgText } from "../../../web/charts/toSvgText.ts";
import { drawCoverage } from "./CoverageChart.tsx";
import { figuresModule, type QuotedFigure, quotedFigures } from "./quotedFigures.ts";
import { schemes } from "./schemes.ts";
import { freeMethods, methodNames, resultsOf, type Share, shareOf } from "./summaries.ts";
import type { CellResult } from "./tallies.ts";

const results = new URL("../results/", import.meta.url);
const figures = new URL("../../../analysis/study/coverageFigures.ts", import.meta.url);
const expected = [3, 5, 10, 20, 50];
const quantities = ["B10", "shape"] as const;

export function writeTables(): void {
  const [choosing, reporting] = [resultsOf("choosing"), resultsOf("reporting")];
  if (reporting.length === 0) throw new Error("Nothing has been run: npm run coverage-study.");
  mkdirSync(results, { recursive: true });
  const quoted = quotedFigures(choosing, reporting);
  writeFileSync(new URL("coverage-study.csv", results), csv(reporting));
  writeFileSync(new URL("coverage-study.md", results), markdown(choosing, reporting, quoted));
  writeFileSync(new URL("coverage-study.svg", results), `${chart(reporting)}\n`);
  writeFileSync(figures, figuresModule(quoted));
}

const decimals = (value: number): string => value.toFixed(4);

function csv(all: readonly CellResult[]): string {
  const head =
    "scheme,tool_spread,shape,expected_failures,method,quantity,fleets,truth_below_lower,truth_above_upper,monte_carlo_error,mean_failures,without_maximum";
  const lines = all.flatMap((result) =>
    methodNames.flatMap((method) =>
      quantities.flatMap((quantity) => {
        const share = shareOf([result], `${method}: ${quantity}`);
        if (!share) return [];
        const { scheme, spread, shape, expectedFailures } = result.cell;
        return [
          [
            scheme,
            spread,
            shape,
            expectedFailures,
            `"${method}"`,
            quantity,
            share.fleets,
            decimals(share.below),
            decimals(share.above),
            decimals(share.error),
            result.meanFailures.toFixed(2),
            decimals(result.noMaximum),
          ].join(","),
        ];
      }),
    ),
  );
  return `${[head, ...lines].join("\n")}\n`;
}

const percent = (share: number): string => (100 * share).toFixed(1);
const tails = (share: Share | null): string => (share ? `${percent(share.below)} / ${percent(share.above)}` : "-");
const byScheme = (all: readonly CellResult[], scheme: string, spread: number, failures: number): CellResult[] =>
  all.filter(({ cell }) => cell.scheme === scheme && cell.spread === spread && cell.expectedFailures === failures);

function tailTable(all: readonly CellResult[], method: string, quantity: string): string[] {
  const rows = schemes.flatMap((scheme) =>
    [0, 0.3].flatMap((spread) => {
      const columns = expected.map((failures) =>
        tails(shareOf(byScheme(all, scheme, spread, failures), `${method}: ${quantity}`)),
      );
      return columns.every((column) => column === "-") ? [] : [`| ${scheme} | ${spread} | ${columns.join(" | ")} |`];
    }),
  );
  return [`| scheme | spread | ${expected.join(" | ")} |`, "|---|---|---|---|---|---|---|", ...rows];
}

/** How far each method is from what it says, over all cells: the mean distance of each tail from 5 %, in points. */
function distance(all: readonly CellResult[], method: string): number {
  const off = all.flatMap((result) =>
    quantities.flatMap((quantity) => {
      const share = shareOf([result], `${method}: ${quantity}`);
      return share ? [Math.abs(share.below - 0.05), Math.abs(share.above - 0.05)] : [];
    }),
  );
  return off.reduce((sum, value) => sum + value, 0) / off.length;
}

function markdown(
  choosing: readonly CellResult[],
  reporting: readonly CellResult[],
  quoted: readonly QuotedFigure[],
): string {
  const fleets = [...new Set(reporting.map(({ replicates }) => replicates))];
  const worst = (share: number, count: number): string => percent(Math.sqrt((share * (1 - share)) / count));
  const least = Math.min(...fleets);
  const withPrior = Math.min(...reporting.flatMap(({ tallies }) => tallies["prior 1 to 4: B10"]?.used ?? []));
  return [
    "# Do 90 % bounds hold?",
    "",
    "Made by `npm run coverage-study` (seeded, resumable; parts in `tests/studies/coverageOfBounds`). Simulated fleets with a known Weibull law;",
    "two-sided 90 % bounds of B10 and shape are held against the truth, each tail apart: *below / above* is the share of fleets in % whose",
    "truth lies below the lower bound (it claims too much) / above the upper one. 5 / 5 is meant. Every cell is in `coverage-study.csv`.",
    "",
    "## How it was done",
    "",
    `- ${reporting.length} cells: five schemes; shape 1, 2, 3; 3, 5, 10, 20, 50 expected failures among so many lives that three in ten fail; tools alike, or with a gamma`,
    "  multiplier of the hazard of variance 0.3, one draw for the four lives of a tool. With a spread the true B10 is that of all tools together; the shape is that of",
    "  each tool, which a fit of all together does not estimate: its upper misses at many failures are that.",
    "- *time-ended*: every life followed to one age. *failure-ended*: all lives end at the wanted failure. *staggered entry*: begun evenly over a window that closes at the",
    "  cut-off. *k looks a life*: a failure is known between two of k looks, spaced evenly, begun anywhere.",
    `- ${least.toLocaleString("en")} fleets a cell for the report, ${Math.min(...choosing.map(({ replicates }) => replicates)).toLocaleString("en")} others for choosing; the prior on every fourth (${withPrior.toLocaleString("en")} a cell).`,
    `  Monte Carlo standard error of a share of 5 %: ${worst(0.05, least)} points a cell, ${worst(0.05, 3 * least)} in the tables below, which are means over the three shapes`,
    `  (${worst(0.05, withPrior)} and ${worst(0.05, 3 * withPrior)} for the prior). Of a share of 15 %: ${worst(0.15, least)} and ${worst(0.15, 3 * least)}.`,
    "- Fleets without a maximum of the likelihood are in no tail; their share stands apart below. An open end covers.",
    "- *by serial*: bootstrap with all lives of a serial together, one resample a fleet, pooled over the fleets (Giacomini, Politis & White 2013).",
    "- *prior 1 to 4*: shape within 1 to 4 with 90 %. *fixed shape*: bounds for a shape from elsewhere, right or a quarter too high; known ages only.",
    "",
    "## Chosen on the first seeds, reported on the second",
    "",
    "Mean distance of both tails, of B10 and shape, from 5 %, in points, over all cells. The least on the first seeds is the product's default.",
    "",
    "| method | on the choosing seeds | on the reporting seeds |",
    "|---|---|---|",
    ...freeMethods.map(
      (method) => `| ${method} | ${percent(distance(choosing, method))} | ${percent(distance(reporting, method))} |`,
    ),
    "",
    "## Likelihood ratio, the product's default",
    "",
    "B10, by expected failures:",
    "",
    ...tailTable(reporting, "likelihood ratio", "B10"),
    "",
    "Shape:",
    "",
    ...tailTable(reporting, "likelihood ratio", "shape"),
    "",
    "## The other methods, B10",
    "",
    ...methodNames
      .filter((method) => method !== "likelihood ratio")
      .flatMap((method) => [`**${method}**`, "", ...tailTable(reporting, method, "B10"), ""]),
    "By serial pays where tools differ and ten or more have failed: below that its lower tail is worse than that of the likelihood ratio. A fixed shape that is",
    "a quarter too high is worse than no knowledge at all from ten failures on.",
    "",
    "The prior holds for a shape in its middle (2) and claims too much of life where the true shape is at its edge (1): `coverage-study.csv` has the shapes apart.",
    "",
    "## Share without a maximum, %",
    "",
    `| scheme | ${expected.join(" | ")} |`,
    "|---|---|---|---|---|---|",
    ...schemes.map(
      (scheme) =>
        `| ${scheme} | ${expected.map((failures) => percent(Math.max(...[0, 0.3].flatMap((spread) => byScheme(reporting, scheme, spread, failures).map(({ noMaximum }) => noMaximum))))).join(" | ")} |`,
    ),
    "",
    "The worst of shapes and spreads.",
    "",
    "## What the product says of it",
    "",
    "Where either tail of B10 was over 7 % on the choosing seeds, over all the rows of a method and a number of failures, the product says so beside the",
    "bounds, with the share of its row on the reporting seeds.",
    "It reads the row by observed failures (nearest in ratio) and by looks a life: up to 4 is few. Failure-ended tests are left out: a shop's records end at a date.",
    "",
    "| method | how failures are known | spread | expected failures | below | above | said |",
    "|---|---|---|---|---|---|---|",
    ...quoted.map(
      (row) =>
        `| ${row.method} | ${row.kind} | ${row.spread} | ${row.failures} | ${percent(row.below)} | ${percent(row.above)} | ${row.isSaid ? "yes" : ""} |`,
    ),
    "",
  ].join("\n");
}

function chart(all: readonly CellResult[]): string {
  const shown = ["likelihood ratio", "Wald", "by serial, bias-corrected"];
  const panels = schemes.map((scheme) => ({
    title: scheme,
    lines: shown.map((method) => ({
      method,
      points: expected.flatMap((failures) => {
        const share = shareOf(byScheme(all, scheme, 0, failures), `${method}: B10`);
        return share ? [{ failures, share: share.below }] : [];
      }),
    })),
  }));
  const finding =
    "With ten failures or fewer a lower bound of the 10 % age claims too much more often than the 5 % it says; likelihood-ratio bounds come nearest";
  return toSvgText(drawCoverage(panels, finding));
}
