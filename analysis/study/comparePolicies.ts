import { costRate } from "../decisions/costRate.ts";
import type { RedressCosts } from "../decisions/redressModel.ts";
import { type RedressPolicy, simulatePolicies } from "../decisions/simulatePolicies.ts";
import type { PolicyRow } from "./decisionTypes.ts";
import type { FittedMode } from "./fitModes.ts";
import { practiceChance } from "./practiceChance.ts";
import type { RedressPractice } from "./redressPractice.ts";

/** Opening, testing and closing a tool make this share of a planned redress. Common practice, no source. */
export const OPENING_SHARE = 0.5;
/** An item that has used so much of its interval is renewed with one that is due. Common practice, no source. */
const OPPORTUNITY = 0.7;
const HISTORIES = 150;
/** Hours of a history, in longest ages followed: enough cycles that beginning new does not matter. */
const LENGTH = 20;
/** Runs kept for drawing lengths; more say no more. */
const MOST_RUNS = 2_000;

interface ToCompare {
  readonly counted: readonly FittedMode[];
  readonly costs: RedressCosts;
  readonly practice: RedressPractice;
  /** Interval of least cost, limit of the allowed chance, the one decided; null where there is none. */
  readonly recommended: number | null;
  readonly limit: number | null;
  readonly decided: number | null;
  readonly longest: number;
  readonly seed: number;
}

/**
 * Policies beside today's practice, on the shop's run lengths: the interval recommended, the limit of the allowed chance and the
 * interval decided, each kept by redressing before the run that would pass it; each item by its own interval with opportunity;
 * none at all. Empty where there are no runs.
 */
export function comparePolicies(input: ToCompare): PolicyRow[] {
  const { counted, costs, practice, recommended, limit, decided, longest, seed } = input;
  const runs = evenly(practice.runs.map(({ hours }) => hours).filter((hours) => hours > 0));
  if (runs.length === 0 || practice.redresses.length === 0) return [];
  const items = [...new Set(counted.map(({ item }) => item))];
  const itemOf = counted.map(({ item }) => items.indexOf(item));
  const own = items.length > 1 ? intervalsByItem(input, items) : null;
  const named: {
    readonly name: PolicyRow["policy"];
    readonly interval: number | null;
    readonly policy: RedressPolicy;
  }[] = [{ name: "today's practice", interval: null, policy: practiceOf(practice, counted, items) }];
  for (const [name, interval] of [
    ["recommended interval", recommended],
    ["limit of the allowed chance", limit],
    ["decided interval", decided],
  ] as const) {
    if (interval !== null) named.push({ name, interval, policy: { kind: "ahead", interval } });
  }
  if (own !== null)
    named.push({
      name: "each item its own",
      interval: null,
      policy: { kind: "items", intervals: own, opportunity: OPPORTUNITY },
    });
  named.push({ name: "only after failures", interval: null, policy: { kind: "never" } });
  const outcomes = simulatePolicies({
    laws: counted.map(({ law }) => law),
    itemOf,
    costs,
    openingShare: OPENING_SHARE,
    runs,
    policies: named.map(({ policy }) => policy),
    histories: HISTORIES,
    hours: LENGTH * longest,
    seed,
  });
  return named.map(({ name, interval, policy }, place) => ({
    policy: name,
    intervalH: interval,
    itemIntervals:
      policy.kind === "items"
        ? items.map((item, at) => ({
            item,
            intervalH: Number.isFinite(policy.intervals[at]!) ? policy.intervals[at]! : null,
          }))
        : [],
    ...outcomes[place]!,
  }));
}

/** Best interval of each item alone, its share of the planned cost; without end where none pays. */
function intervalsByItem({ counted, costs, longest }: ToCompare, items: readonly string[]): number[] {
  return items.map((item) => {
    const places = counted.flatMap((one, place) => (one.item === item ? [place] : []));
    const own: RedressCosts = {
      planned: costs.planned * (OPENING_SHARE + (1 - OPENING_SHARE) / items.length),
      modes: places.map((place) => costs.modes[place]!),
    };
    const laws = places.map((place) => counted[place]!.law);
    return costRate(laws, own, (2 * longest) / 160, 160).optimalAge ?? Number.POSITIVE_INFINITY;
  });
}

/** The practice of redressing as the records show it. */
function practiceOf(
  practice: RedressPractice,
  counted: readonly FittedMode[],
  items: readonly string[],
): RedressPolicy {
  const renewedShare = items.map((item) =>
    Math.min(
      1,
      Math.max(0, ...counted.filter((one) => one.item === item).map((one) => practice.restoredShare(item, one.mode))),
    ),
  );
  return { kind: "practice", chanceAt: practiceChance(practice), renewedShare };
}

function evenly(hours: readonly number[]): number[] {
  const ordered = [...hours].sort((a, b) => a - b);
  if (ordered.length <= MOST_RUNS) return ordered;
  return Array.from({ length: MOST_RUNS }, (_, place) => ordered[Math.floor((place * ordered.length) / MOST_RUNS)]!);
}
