// A second look at the ratio of rates by tool, slow and obvious: every allocation of the failures listed, and the log
// ratio's variance by tool from a Poisson regression climbed by Newton, one parameter a stratum and one for "after".
import { Matrix, solve } from "ml-matrix";
import type { ToolCell } from "../../../analysis/estimation/toolSpread.ts";

/** Probability of a Pearson statistic as large as that observed, by listing every way in which the failures could have fallen. */
export function listedPValue(cells: readonly ToolCell[]): { readonly factor: number; readonly pValue: number } {
  const tools = [...new Set(cells.map(({ tool }) => tool))];
  const groups = [...new Set(cells.map(({ stratum, side }) => `${stratum} ${side}`))].map((name) =>
    cells.filter(({ stratum, side }) => `${stratum} ${side}` === name),
  );
  const expected = tools.map(() => 0);
  const observed = tools.map(() => 0);
  const trials: { readonly place: number; readonly chance: number }[][] = [];
  for (const group of groups) {
    const hours = group.reduce((sum, one) => sum + one.hours, 0);
    const failures = group.reduce((sum, one) => sum + one.failures, 0);
    const fates = group.map(({ tool, hours: own }) => ({ place: tools.indexOf(tool), chance: own / hours }));
    for (const { place, chance } of fates) expected[place]! += failures * chance;
    for (const { tool, failures: own } of group) observed[tools.indexOf(tool)]! += own;
    for (let failure = 0; failure < failures; failure++) trials.push(fates);
  }
  const pearson = (counts: readonly number[]) =>
    counts.reduce((sum, count, at) => sum + (count - expected[at]!) ** 2 / expected[at]!, 0);
  const statistic = pearson(observed);
  let [asLarge, mean] = [0, 0];
  const walk = (trial: number, counts: readonly number[], chance: number): void => {
    const fates = trials[trial];
    if (fates === undefined) {
      const own = pearson(counts);
      mean += chance * own;
      if (own > statistic - 1e-9) asLarge += chance;
      return;
    }
    for (const fate of fates)
      walk(
        trial + 1,
        counts.map((count, at) => count + (at === fate.place ? 1 : 0)),
        chance * fate.chance,
      );
  };
  walk(
    0,
    expected.map(() => 0),
    1,
  );
  return { factor: statistic / mean, pValue: asLarge };
}

/** Log ratio of the Poisson regression with a rate a stratum, its variance by the model and by tool. */
export function regressedRatio(cells: readonly ToolCell[]) {
  const strata = [...new Set(cells.map(({ stratum }) => stratum))];
  const width = strata.length + 1;
  const row = ({ stratum, side }: ToolCell) =>
    Array.from({ length: width }, (_, at) =>
      at === 0 ? Number(side === "after") : Number(strata[at - 1] === stratum),
    );
  const beta = [0, ...strata.map(() => -6)];
  const fitted = (cell: ToolCell) =>
    cell.hours * Math.exp(row(cell).reduce((sum, one, at) => sum + one * beta[at]!, 0));
  let information = Matrix.zeros(width, width);
  for (let step = 0; step < 200; step++) {
    const score = Matrix.zeros(width, 1);
    information = Matrix.zeros(width, width);
    for (const cell of cells) {
      const x = Matrix.columnVector(row(cell));
      score.add(Matrix.mul(x, cell.failures - fitted(cell)));
      information.add(Matrix.mul(x.mmul(x.transpose()), fitted(cell)));
    }
    const move = solve(information, score).to1DArray();
    const shrink = Math.min(1, 1 / Math.max(...move.map(Math.abs)));
    move.forEach((one, at) => {
      beta[at]! += shrink * one;
    });
  }
  const meat = Matrix.zeros(width, width);
  const tools = [...new Set(cells.map(({ tool }) => tool))];
  for (const tool of tools) {
    const score = Matrix.zeros(width, 1);
    for (const cell of cells.filter((one) => one.tool === tool))
      score.add(Matrix.mul(Matrix.columnVector(row(cell)), cell.failures - fitted(cell)));
    meat.add(score.mmul(score.transpose()));
  }
  const inverse = solve(information, Matrix.eye(width));
  return {
    ratio: Math.exp(beta[0]!),
    model: inverse.get(0, 0),
    byTool: inverse.mmul(meat).mmul(inverse).get(0, 0),
    tools: tools.length,
  };
}
