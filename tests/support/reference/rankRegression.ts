import { z } from "zod";
import { lifeSample } from "../../../analysis/estimation/lifeSample.ts";
import { adjustedRanks } from "../../../analysis/estimation/rankRegression/adjustedRanks.ts";
import { fitByRankRegression } from "../../../analysis/estimation/rankRegression/fitByRankRegression.ts";
import { medianRank, rankQuantile } from "../../../analysis/estimation/rankRegression/medianRank.ts";
import { halfPrintedUnit } from "./printedUnit.ts";
import type { Comparer, Comparers, Value } from "./types.ts";

const numbers = z.array(z.number());
const published = z.array(z.object({ what: z.string(), values: numbers })).nullable();

const ranksExpected = z.strictObject({ median: numbers, rank05: numbers, rank95: numbers, benard: numbers });

const compareRanks: Comparer = (one, report) => {
  const { n } = z.object({ n: z.number() }).parse(one.data);
  const expected = ranksExpected.parse(one.expected);
  const ranks = Array.from({ length: n }, (_, i) => i + 1);
  const exact = ranks.map((rank) => medianRank(rank, n));
  report.compare("median", exact, expected.median);
  report.compare(
    "approximate median",
    ranks.map((rank) => medianRank(rank, n, "approximate")),
    expected.benard,
  );
  report.compare(
    "5 %",
    ranks.map((rank) => rankQuantile(rank, n, 0.05)),
    expected.rank05,
  );
  report.compare(
    "95 %",
    ranks.map((rank) => rankQuantile(rank, n, 0.95)),
    expected.rank95,
  );
  for (const { what, values } of published.parse(one.publishedValues) ?? []) {
    values.forEach((value, i) => {
      report.compare(`published (from memory): ${what}, rank ${i + 1}`, exact[i], value, {
        absolute: Math.max(halfPrintedUnit(value), 0.00005),
      });
    });
  }
};

const line = z.object({ regression: z.string() }).catchall(z.number());
const lines = z.strictObject({ xOnY: line, yOnX: line });
const laws = z.strictObject({ weibull: lines, lognormal: lines });
const regressionExpected = z.strictObject({
  failureTimes: numbers,
  adjustedRanks: numbers,
  medianRanksExact: numbers,
  medianRanksBenard: numbers,
  rank05: numbers,
  rank95: numbers,
  exact: laws,
  benard: laws,
});
const regressionData = z.object({ time: numbers, status: numbers });

const compareRegression: Comparer = (one, report) => {
  const { time, status } = regressionData.parse(one.data);
  const expected = regressionExpected.parse(one.expected);
  const sample = lifeSample({
    unit: "as published",
    lives: time.map((at, i) => ({ lower: at, upper: status[i] === 1 ? at : null })),
  });
  const { lives, failures } = adjustedRanks(sample);
  const ofRanks = (compute: (rank: number) => number): Value => failures.map(({ rank }) => compute(rank));
  report.compare(
    "ages of failure",
    failures.map(({ age }) => age),
    expected.failureTimes,
  );
  report.compare(
    "adjusted ranks",
    ofRanks((rank) => rank),
    expected.adjustedRanks,
  );
  report.compare(
    "median ranks",
    ofRanks((rank) => medianRank(rank, lives)),
    expected.medianRanksExact,
  );
  report.compare(
    "approximate median ranks",
    ofRanks((rank) => medianRank(rank, lives, "approximate")),
    expected.medianRanksBenard,
  );
  report.compare(
    "5 % ranks",
    ofRanks((rank) => rankQuantile(rank, lives, 0.05)),
    expected.rank05,
  );
  report.compare(
    "95 % ranks",
    ofRanks((rank) => rankQuantile(rank, lives, 0.95)),
    expected.rank95,
  );
  for (const [name, ranks] of [
    ["exact", "exact"],
    ["benard", "approximate"],
  ] as const) {
    for (const [direction, outcome] of [
      ["xOnY", "age"],
      ["yOnX", "rank"],
    ] as const) {
      for (const law of ["weibull", "lognormal"] as const) {
        const { regression: _, ...values } = expected[name][law][direction];
        const fit =
          law === "weibull"
            ? fitByRankRegression(sample, "weibull", { ranks, outcome })
            : fitByRankRegression(sample, "lognormal", { ranks, outcome });
        const parameters: Readonly<Record<string, number>> =
          fit === null
            ? {}
            : fit.law === "weibull"
              ? { shape: fit.shape, scale: fit.scale }
              : { mu: fit.mu, sigma: fit.sigma };
        report.compare(
          `${law}, ${name} ranks, ${outcome} as outcome`,
          fit && { ...parameters, slopeOfYOnX: fit.slope, interceptOfYOnX: fit.intercept, rSquared: fit.rSquared },
          values,
        );
      }
    }
  }
};

export const rankRegressionComparers: Comparers = { ranks: compareRanks, "rank-regression": compareRegression };
