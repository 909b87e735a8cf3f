import { quantileOf } from "./quantileOf.ts";

/** Chance at every age of a grid: by the estimate, and its upper bound. */
export interface ChanceByAge {
  readonly value: readonly number[];
  readonly upper: readonly number[];
}

/**
 * Chance that a job which begins at an age is stopped before it ends, given that none was before:
 *   1 - S(age + hours) / S(age)
 *
 * @param running  S on the ages 0, step, 2 step ... ; ages past its end are left out.
 * @returns        For each age of the grid whose job still ends on it.
 */
export function nextRunChance(running: Float64Array, step: number, hours: number): number[] {
  const chances: number[] = [];
  for (let cell = 0; cell < running.length; cell++) {
    const place = cell + hours / step;
    const low = Math.floor(place);
    if (low + 1 >= running.length) break;
    const end = running[low]! + (place - low) * (running[low + 1]! - running[low]!);
    chances.push(running[cell]! > 0 ? 1 - end / running[cell]! : 1);
  }
  return chances;
}

/** Chances of the draws to an upper one-sided bound at each age; the shortest list decides how far. */
export function upperChance(
  value: readonly number[],
  draws: readonly (readonly number[])[],
  oneSided: number,
): ChanceByAge {
  return {
    value,
    upper: value.map((own, place) =>
      Math.max(
        own,
        quantileOf(
          draws.map((draw) => draw[place] ?? 1),
          oneSided,
        ),
      ),
    ),
  };
}

/** How old a tool may be under an allowed chance. `beyondGrid`: the chance stays under it as far as was asked. */
export interface AllowedAge {
  /** Null where even at the first age of the grid the chance is too high. */
  readonly age: number | null;
  readonly beyondGrid: boolean;
}

/** The last age of the grid up to which the chance stays at or under what is allowed, between grid ages linearly. */
export function allowedAge(ages: readonly number[], chance: readonly number[], allowed: number): AllowedAge {
  const over = chance.findIndex((value) => value > allowed);
  if (over === -1) return { age: ages[chance.length - 1] ?? null, beyondGrid: true };
  if (over === 0) return { age: null, beyondGrid: false };
  const [a, b] = [chance[over - 1]!, chance[over]!];
  const [from, to] = [ages[over - 1]!, ages[over]!];
  return { age: from + ((allowed - a) / (b - a)) * (to - from), beyondGrid: false };
}
