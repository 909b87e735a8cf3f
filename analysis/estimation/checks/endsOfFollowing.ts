import type { LookSchedule } from "./lookSchedule.ts";

/** Draws the age at which following would have ended, given that it had not by `beyond`. Infinity: it would not have. */
export type DrawEnd = (beyond: number, uniform: number) => number;

/**
 * Product-limit estimate of the age at which following ends, a failure being what hides it (the survival curve with the roles of
 * failure and survivor turned round), and draws from its part beyond an age.
 *
 * Conventions  Where failure and end share an age, the failure came first. Mass that the estimate leaves beyond the last known
 *              end is at Infinity: nothing in the data says that following would ever have ended there.
 */
export function endsOfFollowing(lives: readonly LookSchedule[]): DrawEnd {
  const ordered = lives
    .map(({ end, followedTo, count }) => ({ age: followedTo, isEnd: end !== null, count }))
    .sort((a, b) => a.age - b.age || Number(a.isEnd) - Number(b.isEnd));
  let atRisk = ordered.reduce((sum, { count }) => sum + count, 0);
  let survival = 1;
  const ages: number[] = [];
  const after: number[] = [];
  for (const { age, isEnd, count } of ordered) {
    if (isEnd) {
      survival *= Math.max(0, 1 - count / atRisk);
      ages.push(age);
      after.push(survival);
    }
    atRisk -= count;
  }
  return (beyond, uniform) => {
    const first = firstWhere(ages.length, (i) => ages[i]! > beyond);
    const target = (first === 0 ? 1 : after[first - 1]!) * (1 - uniform);
    const drawn = firstWhere(ages.length, (i) => i >= first && after[i]! < target);
    return ages[drawn] ?? Number.POSITIVE_INFINITY;
  };
}

/** The first index from which a rule holds, which holds from there on; `length` where it never does. */
function firstWhere(length: number, holds: (i: number) => boolean): number {
  let [low, high] = [0, length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
