import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import { type RandomStream, randomStream } from "../estimation/bootstrap/randomStream.ts";
import type { ModeLaw, RedressCosts } from "./redressModel.ts";

/**
 * When a tool that has come back is redressed, and what of it.
 *   never     only after a failure that stopped a job
 *   whole     everything, once its hours since the last redress reach the interval
 *   ahead     everything, where its hours and those of the coming run together would pass the interval
 *   block     everything, each time so many hours have passed since the last planned redress, failures or not
 *   items     each item by an interval of its own; whatever else has used `opportunity` of its own goes along (1: nothing does)
 *   practice  by the chances that the records show: `chanceAt(hours since redress)`; each item renewed with its share
 */
export type RedressPolicy =
  | { readonly kind: "never" }
  | { readonly kind: "whole"; readonly interval: number }
  | { readonly kind: "ahead"; readonly interval: number }
  | { readonly kind: "block"; readonly interval: number }
  | { readonly kind: "items"; readonly intervals: readonly number[]; readonly opportunity: number }
  | {
      readonly kind: "practice";
      readonly chanceAt: (hours: number) => number;
      readonly renewedShare: readonly number[];
    };

export interface PolicySimulation {
  readonly laws: readonly ModeLaw[];
  /** Item of each mode, 0, 1, ...: the modes of an item are renewed together. */
  readonly itemOf: readonly number[];
  readonly costs: RedressCosts;
  /** Share of a planned redress that opening, testing and closing the tool cost, whatever is renewed. */
  readonly openingShare: number;
  /** Lengths of runs, drawn with equal chance; > 0. */
  readonly runs: readonly number[];
  readonly policies: readonly RedressPolicy[];
  readonly histories: number;
  /** Hours of each history. */
  readonly hours: number;
  readonly seed: number;
}

/** A rate with the error of having simulated only so much. */
export interface Simulated {
  readonly value: number;
  readonly error: number;
}

export interface PolicyOutcome {
  /** All per 1,000 h. */
  readonly cost: Simulated;
  readonly failures: Simulated;
  readonly redresses: Simulated;
  /** Full sets of items renewed, after failures included. */
  readonly kits: Simulated;
  /** Cost less that of the first policy, on the same lives and runs; 0 for the first. */
  readonly costAgainstFirst: Simulated;
}

/**
 * Policies on the shop's own run lengths, run by run: redresses happen only between runs, a failure ends a run. Each
 * history gives every policy the same runs and, mode by mode, the same lives in the same order (common random numbers).
 *
 * @returns  One outcome a policy, in order. Errors are standard errors of ratio estimates over histories.
 * Errors    "bad-setting" for no runs, a run that is not above 0, fewer than two histories.
 * Source    Law (2015), Simulation Modeling and Analysis, sections 9.5 (ratio) and 11.2 (common random numbers).
 */
export function simulatePolicies(input: PolicySimulation): PolicyOutcome[] {
  if (input.runs.length === 0 || input.runs.some((hours) => !(hours > 0)))
    throw new AnalysisError("bad-setting", { setting: "runs", value: String(Math.min(...input.runs)) });
  if (!(input.histories >= 2)) throw new AnalysisError("bad-setting", { setting: "histories", value: input.histories });
  const tallies = input.policies.map((policy) =>
    Array.from({ length: input.histories }, (_, history) => simulateOne(input, policy, history)),
  );
  const first = tallies[0] ?? [];
  return tallies.map((own) => ({
    cost: ratio(own, ({ cost }) => cost),
    failures: ratio(own, ({ failures }) => failures),
    redresses: ratio(own, ({ redresses }) => redresses),
    kits: ratio(own, ({ kits }) => kits),
    costAgainstFirst: difference(own, first),
  }));
}

interface Tally {
  hours: number;
  cost: number;
  failures: number;
  redresses: number;
  kits: number;
}

/** A mode as it stands in the tool: its age, and the ages at which its defect comes and it stops the job. */
interface Standing {
  age: number;
  defectAt: number;
  stopsAt: number;
}

function simulateOne(input: PolicySimulation, policy: RedressPolicy, history: number): Tally {
  const { laws, itemOf, runs, hours, seed } = input;
  const stream = (which: number): RandomStream => randomStream(seed + 7919 * (history + 1) + 104729 * which);
  const runStream = stream(0);
  const choice = stream(1);
  const lifeStreams = laws.map((_, mode) => stream(2 + mode));
  const items = Math.max(...itemOf) + 1;
  const fresh = (mode: number): Standing => drawLife(laws[mode]!, lifeStreams[mode]!);
  const standing = laws.map((_, mode) => fresh(mode));
  const tally: Tally = { hours: 0, cost: 0, failures: 0, redresses: 0, kits: 0 };
  let sinceRedress = 0;
  let sinceBlock = 0;

  const renew = (item: number): void => {
    itemOf.forEach((own, mode) => {
      if (own !== item) return;
      const { age, defectAt, stopsAt } = standing[mode]!;
      // What stopped the job is paid for with the failure; a defect that had not, is found now.
      if (defectAt <= age && stopsAt > age) tally.cost += input.costs.modes[mode]!.found;
      standing[mode] = fresh(mode);
    });
  };
  const redress = (which: readonly number[], failed: boolean): void => {
    for (const item of which) renew(item);
    tally.kits += which.length / items;
    sinceRedress = 0;
    if (failed) return;
    tally.redresses += 1;
    sinceBlock = 0;
    tally.cost += input.costs.planned * (input.openingShare + (1 - input.openingShare) * (which.length / items));
  };
  const ageOf = (item: number): number => standing[itemOf.indexOf(item)]!.age;
  const all = Array.from({ length: items }, (_, item) => item);

  let coming = runs[runStream.below(runs.length)]!;
  while (tally.hours < hours) {
    const length = coming;
    coming = runs[runStream.below(runs.length)]!;
    const left = standing.map(({ age, stopsAt }) => stopsAt - age);
    const soonest = Math.min(...left);
    const ran = Math.min(length, soonest);
    for (const one of standing) one.age += ran;
    tally.hours += ran;
    sinceRedress += ran;
    sinceBlock += ran;
    if (soonest <= length) {
      const mode = left.indexOf(soonest);
      standing[mode]!.age = standing[mode]!.stopsAt;
      tally.failures += 1;
      tally.cost += input.costs.modes[mode]!.stops;
      redress(alongWith(policy, itemOf[mode]!, all, ageOf, choice), true);
      continue;
    }
    const due = dueNow(policy, all, ageOf, { sinceRedress, sinceBlock, coming }, choice);
    if (due.length > 0) redress(due, false);
  }
  return tally;
}

/** Items renewed after a failure: the one that failed, with what the policy takes along. */
function alongWith(
  policy: RedressPolicy,
  failed: number,
  all: readonly number[],
  ageOf: (item: number) => number,
  choice: RandomStream,
): readonly number[] {
  if (policy.kind === "items")
    return all.filter((item) => item === failed || ageOf(item) >= policy.opportunity * policy.intervals[item]!);
  if (policy.kind === "practice")
    return all.filter((item) => choice.uniform() < policy.renewedShare[item]! || item === failed);
  return all;
}

/** A tool back from a run, in hours. */
interface Return {
  readonly sinceRedress: number;
  readonly sinceBlock: number;
  /** Of the run it would go out for next. */
  readonly coming: number;
}

/** Items due at the return; none means that the tool goes out as it is. */
function dueNow(
  policy: RedressPolicy,
  all: readonly number[],
  ageOf: (item: number) => number,
  { sinceRedress, sinceBlock, coming }: Return,
  choice: RandomStream,
): readonly number[] {
  switch (policy.kind) {
    case "never":
      return [];
    case "whole":
      return sinceRedress >= policy.interval ? all : [];
    case "ahead":
      return sinceRedress + coming > policy.interval && sinceRedress > 0 ? all : [];
    case "block":
      return sinceBlock >= policy.interval ? all : [];
    case "items": {
      if (!all.some((item) => ageOf(item) >= policy.intervals[item]!)) return [];
      return all.filter((item) => ageOf(item) >= Math.min(1, policy.opportunity) * policy.intervals[item]!);
    }
    case "practice": {
      if (choice.uniform() >= policy.chanceAt(sinceRedress)) return [];
      return all.filter((item) => choice.uniform() < policy.renewedShare[item]!);
    }
  }
}

function drawLife(law: ModeLaw, stream: RandomStream): Standing {
  const draw = ({ shape, scale }: { readonly shape: number; readonly scale: number }): number => {
    const share = Math.max(1e-300, 1 - stream.uniform());
    return Number.isFinite(scale) ? weibull({ shape, scale }).survivalQuantile(share) : Number.POSITIVE_INFINITY;
  };
  if (law.kind === "evident") {
    const stopsAt = draw(law.life);
    return { age: 0, defectAt: stopsAt, stopsAt };
  }
  if (law.kind === "hidden") return { age: 0, defectAt: draw(law.life), stopsAt: Number.POSITIVE_INFINITY };
  const defectAt = draw(law.defect);
  return { age: 0, defectAt, stopsAt: defectAt + draw(law.delay) };
}

const PER = 1000;

/** Sum over sum of hours, with the standard error of a ratio estimate. */
function ratio(tallies: readonly Tally[], of: (tally: Tally) => number): Simulated {
  const hours = tallies.reduce((sum, tally) => sum + tally.hours, 0);
  const value = tallies.reduce((sum, tally) => sum + of(tally), 0) / hours;
  return {
    value: PER * value,
    error:
      PER *
      spread(
        tallies.map((tally) => of(tally) - value * tally.hours),
        hours,
      ),
  };
}

/** Difference of two cost ratios over the same histories: their residuals are taken together before they are squared. */
function difference(own: readonly Tally[], first: readonly Tally[]): Simulated {
  const [a, b] = [ratio(own, ({ cost }) => cost), ratio(first, ({ cost }) => cost)];
  const [hoursA, hoursB] = [own, first].map((tallies) => tallies.reduce((sum, { hours }) => sum + hours, 0)) as [
    number,
    number,
  ];
  const residuals = own.map((tally, history) => {
    const other = first[history]!;
    return (
      (tally.cost - (a.value / PER) * tally.hours) / hoursA - (other.cost - (b.value / PER) * other.hours) / hoursB
    );
  });
  return { value: a.value - b.value, error: PER * spread(residuals, 1) };
}

const spread = (residuals: readonly number[], scale: number): number =>
  Math.sqrt((residuals.reduce((sum, one) => sum + one * one, 0) * residuals.length) / (residuals.length - 1)) / scale;
