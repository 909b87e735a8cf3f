/** One simulated shop of known truth through the whole path: the main seal's interval, and forecasts from past dates. */
import { type CostRate, costRate, onGrid } from "../../analysis/decisions/costRate.ts";
import { type AgesToday, rateAtAges } from "../../analysis/decisions/decideInterval.ts";
import type { ModeLaw, RedressCosts } from "../../analysis/decisions/redressModel.ts";
import { randomStream } from "../../analysis/estimation/bootstrap/randomStream.ts";
import { agesToday } from "../../analysis/study/agesToday.ts";
import { defaultStudy, usualDecision } from "../../analysis/study/definition.ts";
import type { ForetoldCount } from "../../analysis/study/fleetTypes.ts";
import { redressPractice } from "../../analysis/study/redressPractice.ts";
import { runStudy } from "../../analysis/study/runStudy.ts";
import { shopData } from "../../analysis/study/shopData.ts";
import { cleanFleet } from "../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { modeTruths } from "../../datasets/sample-fleet/generator/truth.ts";

export const ALLOWED = 0.1;
export const RATIO = 10;
const STEP = 2;
const context = { dataHash: "simulated", statements: [], sample: true };

/** The main seal as the generator has it without effects: extrusion, then a leak that stops the job. */
const lawOf = (mode: string) => {
  const found = modeTruths.find((one) => one.item === "main seal" && one.mode === mode);
  if (!found) throw new Error(`no truth for ${mode}`);
  return found.law;
};
const truth: readonly ModeLaw[] = [{ kind: "linked", defect: lawOf("extrusion"), delay: lawOf("leak") }];
const costs: RedressCosts = { planned: 1, modes: [{ stops: RATIO, found: 0 }] };
export const trueCost: CostRate = costRate(truth, costs, STEP, 400);

/** Where what came lies among the futures: below it, with it, and a place drawn evenly between. */
export interface Placed {
  readonly months: number;
  readonly actual: number;
  readonly mean: number;
  readonly byLastYear: number;
  readonly inside: boolean;
  /** Randomised probability-integral transform: even over 0 to 1 where forecasts are right. */
  readonly place: number;
  readonly useKnown: { readonly mean: number; readonly inside: boolean; readonly place: number };
}

export interface ShopRow {
  readonly seed: number;
  readonly failures: number;
  readonly pays: string;
  readonly age: number | null;
  /** Share of the true cost at the recommended age that the true optimum saves. */
  readonly regret: number | null;
  readonly regretForetold: number | null;
  /** The range of the optimum holds the true one. */
  readonly inRange: boolean | null;
  readonly limit: number | null;
  readonly chanceAtLimit: number | null;
  /** True cost at the recommended age over that of today's practice, less 1. */
  readonly overToday: number | null;
  /** Share of the draws in which the recommended age is cheaper than today's practice. */
  readonly cheaperShare: number | null;
  readonly placed: readonly Placed[];
}

export function runShop(seed: number): ShopRow {
  const { recorded } = simulateFleet({ ...cleanFleet, serials: 30, seed });
  const decision = { ...usualDecision, plannedCost: 1, failureCost: RATIO, foundCost: 0, allowedChance: ALLOWED };
  const scope = { ...defaultStudy("redress interval").scope, toolType: "axial damper", item: "main seal" };
  const interval = runStudy({ ...defaultStudy("redress interval"), scope, decision }, recorded, context);
  if (interval.kind !== "redress interval") throw new Error(interval.kind);
  const age = interval.recommended?.age ?? null;
  const limit = interval.risk.beforeRedress.age;
  const { lower, upper } = interval.optimum;
  const today = todayIn(recorded);
  const end = interval.provenance.cutoff;
  const board = runStudy(
    { ...defaultStudy("fleet"), cutoff: `${Number(end.slice(0, 4)) - 1}${end.slice(4)}` },
    recorded,
    context,
  );
  if (board.kind !== "fleet") throw new Error(board.kind);
  const stream = randomStream(seed);
  return {
    seed,
    failures: interval.modes.find(({ kind }) => kind === "linked")?.failures ?? 0,
    pays: interval.verdict.pays,
    age,
    regret: age === null ? null : 1 - trueCost.leastRate / onGrid(trueCost.rate, STEP, age),
    regretForetold: interval.recommended?.regretMean ?? null,
    inRange:
      lower === null || upper === null || trueCost.optimalAge === null
        ? null
        : lower <= trueCost.optimalAge && trueCost.optimalAge <= upper,
    limit,
    chanceAtLimit: limit === null ? null : 1 - onGrid(trueCost.cycle.running, STEP, limit),
    overToday:
      age === null || today.length === 0
        ? null
        : onGrid(trueCost.rate, STEP, age) / rateAtAges(trueCost, costs, today) - 1,
    cheaperShare: interval.recommended?.againstToday?.cheaperShare ?? null,
    placed: (board.forecast?.lookBack ?? []).map(({ months, actual, foretold, useKnown, byLastYear }): Placed => {
      const place = ({ below, equal }: ForetoldCount) => below + stream.uniform() * equal;
      const inside = (count: ForetoldCount) => count.lower <= actual && actual <= count.upper;
      return {
        months,
        actual,
        mean: foretold.mean,
        byLastYear,
        inside: inside(foretold),
        place: place(foretold),
        useKnown: { mean: useKnown.mean, inside: inside(useKnown), place: place(useKnown) },
      };
    }),
  };
}

function todayIn(records: ReturnType<typeof simulateFleet>["recorded"]): AgesToday {
  const definition = defaultStudy("redress interval");
  return agesToday(redressPractice(shopData(records, definition), definition, "axial damper"));
}
