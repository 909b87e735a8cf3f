import type { LifeRow } from "./sampleOf.ts";

/** Uniform numbers in [0, 1) from a seed: the 32-bit generator of Steele, Lea & Flood (2014), OOPSLA 453-472, mixed down. */
export function uniformFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

export interface RandomLivesOptions {
  readonly lives: number;
  /** Largest whole age. */
  readonly last: number;
  readonly kinds: readonly ("exact" | "right" | "left" | "interval")[];
  /** Fraction of lives that enter late. */
  readonly late?: number;
  readonly counts?: boolean;
}

/** Lives with whole ages from 1 to `last`, for which many ages tie. */
export function randomLives(
  seed: number,
  { lives, last, kinds, late = 0, counts = false }: RandomLivesOptions,
): LifeRow[] {
  const uniform = uniformFrom(seed);
  const whole = (from: number, to: number): number => from + Math.floor(uniform() * (to - from + 1));
  return Array.from({ length: lives }, (): LifeRow => {
    const kind = kinds[whole(0, kinds.length - 1)] ?? "exact";
    const count = counts ? whole(1, 3) : 1;
    const entry = uniform() < late ? whole(1, Math.floor(last / 2)) : 0;
    const age = whole(entry + 1, last);
    if (kind === "exact") return { lower: age, upper: age, entry, count };
    if (kind === "right") return { lower: age, upper: null, entry, count };
    if (kind === "left") return { lower: entry, upper: age, entry, count };
    const lower = whole(entry, last - 1);
    return { lower, upper: whole(lower + 1, last), entry, count };
  });
}
