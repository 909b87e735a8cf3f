import { allowedAge, type ChanceByAge, nextRunChance, upperChance } from "../decisions/allowedAge.ts";
import type { Banded, IntervalDecision } from "../decisions/decideInterval.ts";
import { quantileOf } from "../decisions/quantileOf.ts";
import type { AgeLimit } from "./decisionTypes.ts";

export interface AgeLimits {
  /** One-sided confidence of the limits. */
  readonly oneSided: number;
  readonly beforeRedress: AgeLimit;
  readonly nextRun: AgeLimit;
  /** Chance in a run begun at each age of the decision's grid, as far as the run ends on it. */
  readonly nextRunLine: Banded;
}

interface Allowed {
  readonly runHours: number;
  readonly allowedChance: number;
  /** Two-sided; limits use the upper end alone. */
  readonly confidence: number;
}

/** How old a tool may be under an allowed chance of a stopped job: before its redress, and in a run of so many hours. */
export function ageLimits(decision: IntervalDecision, { runHours, allowedChance, confidence }: Allowed): AgeLimits {
  const oneSided = (1 + confidence) / 2;
  const { chance, line } = nextRunChances(decision, runHours, oneSided, (1 - confidence) / 2);
  const stopped = decision.draws.map(({ cycle }) => Array.from(cycle.running.subarray(1), (share) => 1 - share));
  return {
    oneSided,
    beforeRedress: limitOf(decision.age, upperChance(decision.stoppedBefore.value, stopped, oneSided), allowedChance),
    nextRun: limitOf([0, ...decision.age], chance, allowedChance),
    nextRunLine: line,
  };
}

/** Chances of a job that begins at each age of the grid, from age 0, with their bounds. */
function nextRunChances(
  { estimate, draws }: IntervalDecision,
  hours: number,
  oneSided: number,
  low: number,
): { chance: ChanceByAge; line: Banded } {
  const { step, running } = estimate.cycle;
  const value = nextRunChance(running, step, hours);
  const drawn = draws.map(({ cycle }) => nextRunChance(cycle.running, step, hours));
  const chance = upperChance(value, drawn, oneSided);
  const lower = value.map((own, place) =>
    Math.min(
      own,
      quantileOf(
        drawn.map((draw) => draw[place] ?? own),
        low,
      ),
    ),
  );
  return {
    chance,
    line: { value: value.slice(1), lower: lower.slice(1), upper: chance.upper.slice(1) },
  };
}

function limitOf(ages: readonly number[], { value, upper }: ChanceByAge, allowed: number): AgeLimit {
  const bound = allowedAge(ages, upper, allowed);
  return { age: bound.age, estimate: allowedAge(ages, value, allowed).age, beyondGrid: bound.beyondGrid };
}
