import { mkdirSync, writeFileSync } from "node:fs";
import { arms, CONFIDENCE, type CoverageRow, rowsOf } from "./coveragePath.ts";

interface Cell {
  readonly arm: string;
  readonly mode: string;
  readonly seeds: number;
  readonly failures: number;
  readonly covered: number;
  readonly truthBelow: number;
  readonly truthAbove: number;
  readonly noMaximum: number;
  readonly medianRatio: number | null;
}

/** Modes with fewer expected failures than this are shown but not held to the limits. */
const ENOUGH = 20;
const results = new URL("./results/", import.meta.url);

/** Writes the coverage tables (Markdown and CSV) from what has been run. */
export function writeTables(): void {
  const cells = arms.flatMap(({ name }) => cellsOf(name));
  mkdirSync(results, { recursive: true });
  const header =
    "arm,mode,seeds,mean_failures,covered,truth_below_lower,truth_above_upper,no_maximum,monte_carlo_error,median_b10_over_truth";
  const lines = cells.map((cell) =>
    [
      cell.arm,
      cell.mode,
      cell.seeds,
      cell.failures.toFixed(1),
      share(cell.covered),
      share(cell.truthBelow),
      share(cell.truthAbove),
      share(cell.noMaximum),
      share(errorOf(cell)),
      cell.medianRatio?.toFixed(3) ?? "",
    ].join(","),
  );
  writeFileSync(new URL("coverage-path.csv", results), `${[header, ...lines].join("\n")}\n`);
  writeFileSync(new URL("coverage-path.md", results), markdown(cells));
}

function cellsOf(arm: string): Cell[] {
  const byMode = new Map<string, CoverageRow[]>();
  for (const row of rowsOf(arm)) byMode.set(row.mode, [...(byMode.get(row.mode) ?? []), row]);
  return [...byMode]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([mode, rows]) => {
      const fitted = rows.filter((row) => row.maximum === "found");
      const below = fitted.filter(({ lower, truth }) => lower !== null && truth < lower).length;
      const above = fitted.filter(({ upper, truth }) => upper !== null && truth > upper).length;
      const ratios = fitted.map(({ b10, truth }) => (b10 ?? 0) / truth).sort((a, b) => a - b);
      return {
        arm,
        mode,
        seeds: rows.length,
        failures: rows.reduce((sum, row) => sum + row.failures, 0) / rows.length,
        covered: (fitted.length - below - above) / Math.max(1, fitted.length),
        truthBelow: below / Math.max(1, fitted.length),
        truthAbove: above / Math.max(1, fitted.length),
        noMaximum: (rows.length - fitted.length) / rows.length,
        medianRatio: ratios[Math.floor(ratios.length / 2)] ?? null,
      };
    });
}

const share = (value: number): string => value.toFixed(3);
const errorOf = ({ covered, seeds }: Cell): number =>
  Math.sqrt((Math.max(covered, 0.01) * (1 - Math.min(covered, 0.99))) / seeds);

function markdown(cells: readonly Cell[]): string {
  const table = (rows: readonly Cell[]) =>
    [
      "| mode | seeds | failures a fleet | covered | truth under the bounds | truth over them | no maximum | B10 / truth, median |",
      "|---|---|---|---|---|---|---|---|",
      ...rows.map(
        (cell) =>
          `| ${cell.mode} | ${cell.seeds} | ${cell.failures.toFixed(0)} | ${share(cell.covered)} ± ${share(errorOf(cell))} | ${share(cell.truthBelow)} | ${share(cell.truthAbove)} | ${share(cell.noMaximum)} | ${cell.medianRatio?.toFixed(2) ?? "-"} |`,
      ),
    ].join("\n");
  const of = (arm: string) => cells.filter((cell) => cell.arm === arm);
  const dirt = arms.filter(({ name }) => name !== "off" && name !== "spread" && of(name).length > 0);
  const byDirt = dirt.map(({ name }) => {
    const held = of(name).filter(
      ({ failures, mode }) => failures >= ENOUGH && !mode.includes("not used by the product"),
    );
    const worst = [...held].sort((a, b) => a.covered - b.covered)[0];
    const mean = held.reduce((sum, { covered }) => sum + covered, 0) / Math.max(1, held.length);
    return `| ${name} | ${held[0]?.seeds ?? 0} | ${share(mean)} | ${worst ? `${worst.mode}: ${share(worst.covered)}, B10 / truth ${worst.medianRatio?.toFixed(2)}` : "-"} |`;
  });
  return [
    "# Coverage of the main path",
    "",
    `Simulated fleets of the invented shop go through the derivation and the fit; ${Math.round(CONFIDENCE * 100)} % two-sided likelihood-ratio bounds of B10 are`,
    "held against the truth. Made by `npm run coverage-path` (seeded, resumable). ± is the Monte Carlo standard error.",
    "",
    "## Effects off, nothing wrong in the records",
    "",
    `Modes with ${ENOUGH} or more failures a fleet are held to 0.86-0.94.`,
    "",
    table(of("off").filter(({ failures }) => failures >= ENOUGH)),
    "",
    `Fewer than ${ENOUGH} failures a fleet, for information:`,
    "",
    table(of("off").filter(({ failures }) => failures < ENOUGH)),
    "",
    "## Tool-to-tool spread on (variance 0.25)",
    "",
    table(of("spread").filter(({ failures }) => failures >= ENOUGH)),
    "",
    "## Each kind of dirt on, effects off",
    "",
    `Mean over the readings of the product with ${ENOUGH} or more failures, and the worst of them.`,
    "",
    "| dirt | seeds | mean covered | worst mode |",
    "|---|---|---|---|",
    ...byDirt,
    "",
  ].join("\n");
}
