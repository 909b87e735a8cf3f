import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { LifeInput } from "../../../analysis/estimation/lifeSample.ts";

/** Seeded uniform numbers in [0, 1). */
export function uniforms(seed: number): () => number {
  const generator = xoroshiro128plus(seed);
  return () => uniformFloat64(generator);
}

/** A Weibull age. */
export function weibullAge(random: () => number, shape: number, scale: number): number {
  return scale * (-Math.log1p(-random())) ** (1 / shape);
}

export type Mix = "exact and right" | "between looks" | "truncated" | "ranged" | "everything";

/** Invented lives of a Weibull law, observed in the way that `mix` says. */
export function randomLives(seed: number, n: number, mix: Mix, shape = 1.8, scale = 300): LifeInput[] {
  const random = uniforms(seed);
  const kinds = ["exact and right", "between looks", "truncated", "ranged"] as const;
  const lives: LifeInput[] = [];
  for (let i = 0; i < n; i++) {
    const kind = mix === "everything" ? kinds[i % kinds.length]! : mix;
    const stop = scale * (0.3 + 1.2 * random());
    const entry = kind === "truncated" ? 0.5 * stop * random() : 0;
    let age = weibullAge(random, shape, scale);
    while (age <= entry) age = weibullAge(random, shape, scale);
    const look = 0.15 * scale * (0.8 + 0.4 * random());
    const width = 0.1 * scale;
    if (age > stop) {
      lives.push(
        kind === "ranged" ? { lower: stop, upper: null, lowerHigh: stop + width } : { lower: stop, upper: null, entry },
      );
    } else if (kind === "between looks" || kind === "ranged") {
      const lower = Math.floor(age / look) * look;
      const upper = lower + look;
      if (kind === "between looks") lives.push({ lower, upper });
      else if (i % 3 === 0) lives.push({ lower: age, lowerHigh: age + width, upper: age, upperHigh: age + width });
      else lives.push({ lower, lowerHigh: lower + width, upper, upperHigh: upper + width });
    } else lives.push({ lower: age, upper: age, entry });
  }
  return lives;
}
