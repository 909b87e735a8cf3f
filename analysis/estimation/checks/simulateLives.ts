import type { RandomStream } from "../bootstrap/randomStream.ts";
import { type LifeInput, lifeSample } from "../lifeSample.ts";
import type { LifeSample } from "../types.ts";
import { type DrawEnd, endsOfFollowing } from "./endsOfFollowing.ts";
import type { LookSchedule, LookSchedules } from "./lookSchedule.ts";

/** What a simulation asks of a law. */
export interface AgeLaw {
  failedFraction(age: number): number;
  quantile(failedFraction: number): number;
}

/** The longest that looks are continued, so that a law that hardly ever fails cannot run for ever. */
const MOST_LOOKS = 10_000;

/**
 * Simulates a sample as it might have come from a law, followed in the same way. For each life:
 *
 *   1. an age at failure from the law, given survival to its age of entry;
 *   2. an end of following: its own where it had not failed; where failure ended it, drawn from the product-limit estimate
 *      of all ends (`endsOfFollowing`), given that it lies beyond the age to which this life was followed;
 *   3. looks: its own, and beyond the last of them gaps drawn from all gaps of all lives with looks, until the end;
 *   4. a failure that tells its age is seen if it comes by the end; one that looks must find lies between the last sound look
 *      and the first look after it. What no look finds by the end is sound at the last look before it;
 *   5. an age of a life with ages in ranges is widened by the same share to either side.
 *
 * Assumed: ends and looks do not depend on the age at failure.
 */
export function lifeSimulator({ unit, lives }: LookSchedules): (law: AgeLaw, random: RandomStream) => LifeSample {
  const drawEnd = endsOfFollowing(lives);
  const gaps = lives.flatMap(({ looks, entry }) => (looks ?? []).map((age, i) => age - (looks?.[i - 1] ?? entry)));
  return (law, random) =>
    lifeSample({ unit, lives: lives.map((life) => simulateLife(life, law, drawEnd, gaps, random)) });
}

function simulateLife(
  { entry, looks, end, followedTo, blur, count }: LookSchedule,
  law: AgeLaw,
  drawEnd: DrawEnd,
  gaps: readonly number[],
  random: RandomStream,
): LifeInput {
  const before = entry > 0 ? law.failedFraction(entry) : 0;
  const age = Math.max(law.quantile(before + (1 - before) * random.uniform()), entry);
  const last = end ?? drawEnd(followedTo, random.uniform());
  const low = (x: number): number => Math.max(entry, x * (1 - blur));
  const high = (x: number): number => x * (1 + blur);
  const sound = (x: number): LifeInput => ({ lower: low(x), lowerHigh: high(x), upper: null, entry, count });
  if (looks === null) {
    if (age > last) return sound(last);
    const seen = Math.max(age, Number.MIN_VALUE);
    return { lower: low(seen), lowerHigh: high(seen), upper: low(seen), upperHigh: high(seen), entry, count };
  }
  let from = entry;
  for (let i = 0; i < MOST_LOOKS; i++) {
    const own = looks[i];
    const to: number = own ?? from + gaps[random.below(gaps.length)]!;
    if (own === undefined && to > last) return sound(from);
    if (age <= to) {
      const lower = from > entry ? { lower: low(from), lowerHigh: high(from) } : { lower: from };
      return { ...lower, upper: Math.max(low(to), lower.lower), upperHigh: high(to), entry, count };
    }
    from = to;
  }
  return sound(from);
}
