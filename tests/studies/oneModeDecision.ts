/** One mode that stops jobs, redressed on plan before: fit, decision, and what it costs under the truth. */
import { costRate, onGrid } from "../../analysis/decisions/costRate.ts";
import { type AgesToday, decideInterval, rateAtAges } from "../../analysis/decisions/decideInterval.ts";
import { drawByLikelihood, evidentOrHidden } from "../../analysis/decisions/drawLaws.ts";
import type { RedressCosts } from "../../analysis/decisions/redressModel.ts";
import { lawFamilies } from "../../analysis/distributions/lawFamilies.ts";
import { TEN } from "../../analysis/distributions/lawPoint.ts";
import { weibull } from "../../analysis/distributions/weibull.ts";
import { randomStream } from "../../analysis/estimation/bootstrap/randomStream.ts";
import { fitLaw } from "../../analysis/estimation/fitLaw.ts";
import { lawLikelihood } from "../../analysis/estimation/lawLikelihood.ts";
import { type LifeInput, lifeSample } from "../../analysis/estimation/lifeSample.ts";

export interface OneModeCell {
  readonly shape: number;
  /** Failures on record; lives are drawn until there are so many. */
  readonly failures: number;
}

export const oneModeCells: readonly OneModeCell[] = [1, 1.5, 2, 3.5].flatMap((shape) =>
  [15, 30, 60].map((failures) => ({ shape, failures })),
);

export interface OneModeRow extends OneModeCell {
  readonly seed: number;
  readonly pays: "yes" | "not shown" | "no";
  readonly age: number | null;
  readonly regret: number | null;
  readonly regretForetold: number | null;
  readonly inRange: boolean | null;
  readonly overToday: number | null;
  readonly cheaperShare: number | null;
}

const SCALE = 400;
const STEP = 2;
const costs: RedressCosts = { planned: 1, modes: [{ stops: 10, found: 0 }] };
const DRAWS = 300;

/** Planned redresses fall anywhere between 100 and 300 h, as runs happen to end. */
const today: AgesToday = Array.from({ length: 41 }, (_, place) => ({ age: 100 + 5 * place, weight: 1 }));

export function runOneMode(cell: OneModeCell, seed: number): OneModeRow {
  const { shape } = cell;
  // Far apart, so that no two cells share a stream: a set of 15 failures must not be the beginning of one of 30.
  const random = randomStream(1_000_003 * seed + 7919 * Math.round(10 * shape) + cell.failures);
  const law = weibull({ shape, scale: SCALE });
  const lives: LifeInput[] = [];
  for (let failed = 0; failed < cell.failures; ) {
    const age = law.quantile(Math.min(1 - 1e-12, random.uniform()));
    const planned = today[random.below(today.length)]!.age;
    if (age < planned) failed++;
    lives.push(age < planned ? { lower: age, upper: age } : { lower: planned, upper: null });
  }
  const sample = lifeSample({ unit: "h", lives });
  const fit = fitLaw(sample, "weibull");
  const none = { pays: "no" as const, age: null, regret: null, regretForetold: null, inRange: null };
  if (fit.maximum !== "found") return { ...cell, seed, ...none, overToday: null, cheaperShare: null };
  const parameters = { shape: fit.parameters.shape ?? 1, scale: fit.parameters.scale ?? 1 };
  const likelihood = lawLikelihood(sample, lawFamilies.weibull);
  const out = new Float64Array(TEN);
  const draws = drawByLikelihood(
    [Math.log(parameters.shape), Math.log(parameters.scale)],
    fit.covariance.matrix,
    ([logShape = 0, logScale = 0]) => {
      likelihood.evaluate([logScale, -logShape, 0], out);
      return out[0]!;
    },
    DRAWS,
    random,
  );
  const decision = decideInterval({
    laws: [evidentOrHidden("evident", parameters)],
    draws: draws.map(([k = 1, s = 1]) => [evidentOrHidden("evident", { shape: k, scale: s })]),
    costs,
    longest: 375,
    confidence: 0.9,
    today,
  });
  const truth = costRate([evidentOrHidden("evident", { shape, scale: SCALE })], costs, STEP, 187);
  const { recommended, optimumRange, payShare } = decision;
  const age = recommended?.age ?? null;
  const rate = age === null ? null : onGrid(truth.rate, STEP, age);
  return {
    ...cell,
    seed,
    pays: recommended === null ? "no" : payShare >= 0.95 ? "yes" : "not shown",
    age,
    regret: rate === null ? null : Math.max(0, 1 - truth.leastRate / rate),
    regretForetold: recommended?.regret.mean ?? null,
    inRange:
      optimumRange === null || truth.optimalAge === null
        ? null
        : optimumRange.lower <= truth.optimalAge && truth.optimalAge <= optimumRange.upper,
    overToday: rate === null ? null : rate / rateAtAges(truth, costs, today) - 1,
    cheaperShare: recommended?.againstToday?.cheaperShare ?? null,
  };
}
