import { type RandomStream, randomStream } from "../estimation/bootstrap/randomStream.ts";
import type { ModeLaw } from "./redressModel.ts";
import type { KnownState } from "./stopChance.ts";

/** A tool as it stands, and how it is used. */
export interface ToolInUse {
  /** State of each mode, in the order of the laws of its group. */
  readonly states: readonly KnownState[];
  readonly hoursSinceRedress: number;
  /** Hours it runs in a month of 30.4 days. */
  readonly hoursPerMonth: number;
  /** Coming jobs, in order: months from now, hours. After them it runs as before. */
  readonly planned: readonly { readonly month: number; readonly hours: number }[];
}

/** Tools of one type: the same laws, runs and practice. */
export interface ToolGroup {
  readonly tools: readonly ToolInUse[];
  /** Laws that the records allow: a future takes one draw of all of them. */
  readonly draws: readonly (readonly ModeLaw[])[];
  readonly itemOf: readonly number[];
  readonly runs: readonly number[];
  /** Chance of a planned redress at a return, by hours since the last one. */
  readonly chanceAt: (hours: number) => number;
  /** Share of redresses that renew each item, and each kit. */
  readonly renewedShare: readonly number[];
  readonly kitShare: readonly number[];
}

export interface ForecastUse {
  readonly groups: readonly ToolGroup[];
  readonly months: number;
  readonly futures: number;
  readonly seed: number;
  /** Told after each future the share that is played. */
  readonly onShare?: (share: number) => void;
}

/** Counts by future, then month (kits: by group, kit, future, month). */
export interface UseForecast {
  readonly failures: readonly Uint16Array[];
  readonly redresses: readonly Uint16Array[];
  readonly kits: readonly (readonly (readonly Uint16Array[])[])[];
}

/**
 * Plays the fleet forward run by run from its present ages, many times, each time under laws drawn from what the records
 * allow: the spread of the counts holds both chance and what is not known of the laws.
 *
 * Conventions  Runs follow each other so that a tool runs its hours per month; a failure ends its run and brings a redress.
 *              A life goes on from its present age: drawn given that it has not stopped a job, and that the defect was not
 *              there at the last clean look.
 */
export function forecastUse({ groups, months, futures, seed, onShare }: ForecastUse): UseForecast {
  const count = () => Array.from({ length: futures }, () => new Uint16Array(months));
  const failures = count();
  const redresses = count();
  const kits = groups.map(({ kitShare }) => kitShare.map(count));
  for (let future = 0; future < futures; future++) {
    onShare?.(future / futures);
    groups.forEach((group, place) => {
      const stream = randomStream(seed + 15485863 * (place + 1) + 32452843 * (future + 1));
      const laws = group.draws[future % group.draws.length]!;
      for (const tool of group.tools) {
        playTool(tool, group, laws, stream, months, {
          failure: (month) => {
            failures[future]![month]! += 1;
          },
          redress: (month) => {
            redresses[future]![month]! += 1;
            group.kitShare.forEach((share, kit) => {
              if (stream.uniform() < share) kits[place]![kit]![future]![month]! += 1;
            });
          },
        });
      }
    });
  }
  return { failures, redresses, kits };
}

interface Standing {
  age: number;
  stopsAt: number;
}

/** Hours run in a month while the tool is out: half of the clock. Common practice, no source. */
const HOURS_OUT = 365;

function playTool(
  tool: ToolInUse,
  group: ToolGroup,
  laws: readonly ModeLaw[],
  stream: RandomStream,
  months: number,
  tell: { readonly failure: (month: number) => void; readonly redress: (month: number) => void },
): void {
  const standing = laws.map((law, mode): Standing => {
    const state = tool.states[mode]!;
    return { age: state.age, stopsAt: drawStop(law, state, stream) };
  });
  const renewed = (failed: number | null): void => {
    group.renewedShare.forEach((share, item) => {
      if (item !== failed && stream.uniform() >= share) return;
      group.itemOf.forEach((own, mode) => {
        if (own === item) standing[mode] = { age: 0, stopsAt: drawStop(laws[mode]!, { age: 0, cleanAt: 0 }, stream) };
      });
    });
  };
  const rate = tool.hoursPerMonth;
  let since = tool.hoursSinceRedress;
  // Somewhere in its round of running and waiting: the first run begins within one.
  let at = tool.planned.length > 0 || !(rate > 0) ? 0 : (stream.uniform() * (group.runs[0] ?? 1)) / rate;
  for (let run = 0; at < months; run++) {
    const plan = tool.planned[run];
    if (plan === undefined && !(rate > 0)) return;
    const length = plan?.hours ?? group.runs[stream.below(group.runs.length)]!;
    if (plan !== undefined) at = Math.max(at, plan.month);
    const left = standing.map(({ age, stopsAt }) => stopsAt - age);
    const soonest = Math.min(Number.POSITIVE_INFINITY, ...left);
    const ran = Math.min(length, soonest);
    for (const one of standing) one.age += ran;
    since += ran;
    const month = Math.floor(at + ran / HOURS_OUT);
    at += ran / (rate > 0 ? rate : HOURS_OUT);
    if (month >= months) return;
    if (soonest <= length) {
      tell.failure(month);
      tell.redress(month);
      renewed(group.itemOf[left.indexOf(soonest)]!);
      since = 0;
    } else if (stream.uniform() < group.chanceAt(since)) {
      tell.redress(month);
      renewed(null);
      since = 0;
    }
  }
}

const MOST_TRIES = 2_000;

/** Age at which a mode stops the job, given its state; without end for a hidden mode. */
function drawStop(law: ModeLaw, { age, cleanAt }: KnownState, stream: RandomStream): number {
  if (law.kind === "hidden") return Number.POSITIVE_INFINITY;
  if (law.kind === "evident") return after(law.life, age, stream);
  for (let attempt = 0; attempt < MOST_TRIES; attempt++) {
    const stopsAt = after(law.defect, Math.min(cleanAt, age), stream) + after(law.delay, 0, stream);
    if (stopsAt > age) return stopsAt;
  }
  // Hardly possible under this draw of the laws: it has outlived them, and stops at its next hour.
  return age + 1;
}

/** A Weibull age given that it is above `from`. */
function after(law: { readonly shape: number; readonly scale: number }, from: number, stream: RandomStream): number {
  if (!Number.isFinite(law.scale)) return Number.POSITIVE_INFINITY;
  // The formula itself: a law built for each of a few million draws took half the time of a board.
  const hazard = (from / law.scale) ** law.shape - Math.log(Math.max(1e-300, 1 - stream.uniform()));
  return law.scale * hazard ** (1 / law.shape);
}
