import { exactRate } from "../estimation/exactRate.ts";
import { rateRatio } from "../estimation/rateRatio.ts";
import { dateOf, dayOf } from "../lives/calendar.ts";
import type { ShopData } from "../study/shopData.ts";
import type { WhatFailsResult } from "../study/types.ts";
import { runBand } from "./beforeAfter.ts";
import { type ScopedData, type ScopedRun, scopedData } from "./scopedData.ts";
import { strataOf } from "./strata.ts";
import type { GuardEvidence, StatementChange, StatementDefinition } from "./types.ts";

/** What the guard needs to see whether a statement misleads, counted from the same runs. */
export function guardEvidence(
  definition: StatementDefinition,
  scoped: ScopedData,
  rates: WhatFailsResult,
  underPrevious: WhatFailsResult | null,
): GuardEvidence {
  const { runs, data, groups } = scoped;
  const { scope, change, confidence } = definition;
  const whole =
    scope.from === null && change === null
      ? scoped
      : scopedData(data, { ...scoped.study, scope: { ...scope, from: null } });
  const looked = runs.filter(({ lookedAt }) => lookedAt !== null);
  const lives = groups.flatMap(({ exposures }) => exposures.map(({ life }) => life));
  return {
    hoursKinds: hoursKindsOf(runs),
    runsLookedAt: {
      runs: looked.length,
      hours: looked.reduce((sum, { hours }) => sum + hours, 0),
      failures: looked.filter(({ failed }) => failed).length,
    },
    survivors: lives.filter(({ kind }) => kind === "right").length,
    failedLives: lives.filter(({ kind }) => kind !== "right").length,
    foundAtPlanned: runs
      .filter(({ run }) => run.pulled_because === "planned")
      .reduce((sum, { failedLives }) => sum + failedLives.length, 0),
    nothingFound: runs.filter(
      ({ run, lookedAt, failedLives }) =>
        run.pulled_because === "tool failure" && lookedAt !== null && failedLives.length === 0,
    ).length,
    strata: strataOf(scoped),
    allHistory: scope.from === null ? null : historyOf(whole.runs, confidence),
    skipped: change === null ? null : skippedOf(runs, change, confidence),
    earlier:
      change === null || scope.from === null ? null : earlierOf(whole.runs, runs, change, scope.from, confidence),
    months: monthsOf(data, runs, scope),
    definitionChanged: underPrevious && changedCounts(rates, underPrevious),
  };
}

function hoursKindsOf(runs: readonly ScopedRun[]): GuardEvidence["hoursKinds"] {
  const sums = new Map<GuardEvidence["hoursKinds"][number]["kind"], { runs: number; hours: number }>();
  for (const { run, hours } of runs) {
    const kind = run.hours_kind ?? "not written";
    const sum = sums.get(kind) ?? { runs: 0, hours: 0 };
    sums.set(kind, { runs: sum.runs + 1, hours: sum.hours + hours });
  }
  return [...sums]
    .map(([kind, sum]) => ({ kind, ...sum }))
    .sort((a, b) => b.runs - a.runs || (a.kind < b.kind ? -1 : 1));
}

function historyOf(runs: readonly ScopedRun[], confidence: number): GuardEvidence["allHistory"] {
  const [first] = runs;
  if (!first) return null;
  const { failures, hours } = countOf(runs);
  return { failures, hours, rate: exactRate({ failures, hours, confidence }), from: first.on };
}

/** What happened between the change and the first day counted as after it, and the ratio with that counted. */
function skippedOf(runs: readonly ScopedRun[], change: StatementChange, confidence: number): GuardEvidence["skipped"] {
  const { countedFrom, on } = change;
  if (countedFrom === null || countedFrom <= on) return null;
  const between = countOf(runs.filter((run) => run.on >= on && run.on < countedFrom));
  const ratioOf = (counted: StatementChange) => rateRatio([runBand(runs, counted)], confidence).ratio;
  return { ...between, ratioWith: ratioOf({ ...change, countedFrom: null }), ratioWithout: ratioOf(change) };
}

/** Whether the stretch before the change was the worst of the stretches of its length: what follows the worst is better by itself. */
function earlierOf(
  all: readonly ScopedRun[],
  runs: readonly ScopedRun[],
  change: StatementChange,
  from: string,
  confidence: number,
): GuardEvidence["earlier"] {
  const [first] = all;
  const length = dayOf(change.on) - dayOf(from);
  if (!first || length <= 0 || dayOf(from) - dayOf(first.on) < length) return null;
  const stretches: number[] = [];
  for (let end = dayOf(from); end - length >= dayOf(first.on); end -= length) {
    const { failures, hours } = countOf(all.filter(({ on }) => on >= dateOf(end - length) && on < dateOf(end)));
    if (hours > 0) stretches.push(failures / hours);
  }
  const chosen = countOf(runs.filter(({ on }) => on < change.on));
  const before = countOf(all.filter(({ on }) => on < change.on));
  const after = runBand(runs, change).after;
  return {
    stretches: stretches.length + 1,
    worst:
      chosen.hours > 0 && stretches.length >= 2 && stretches.every((rate) => chosen.failures / chosen.hours > rate),
    rate: exactRate({ ...before, confidence }),
    ratioToAll: rateRatio([{ before, after }], confidence).ratio,
    ratioToChosen: rateRatio([{ before: chosen, after }], confidence).ratio,
  };
}

const countOf = (runs: readonly ScopedRun[]): { failures: number; hours: number } => ({
  failures: runs.filter(({ failed }) => failed).length,
  hours: runs.reduce((sum, { hours }) => sum + hours, 0),
});

function monthsOf(data: ShopData, runs: readonly ScopedRun[], scope: StatementDefinition["scope"]): number {
  const from = scope.from ?? runs[0]?.on ?? data.derived.cutoff;
  const to = [scope.to ?? data.derived.cutoff, data.derived.cutoff].sort()[0] ?? data.derived.cutoff;
  return Math.max(1, Math.round((dayOf(to) - dayOf(from) + 1) / 30.4375));
}

function changedCounts(now: WhatFailsResult, before: WhatFailsResult): GuardEvidence["definitionChanged"] {
  const total = ({ modes }: WhatFailsResult): number => modes.reduce((sum, { failures }) => sum + failures, 0);
  return { before: total(before), now: total(now) };
}
