import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/** A seeded stream of random numbers: the same seed, the same numbers on every machine. */
export interface RandomStream {
  /** In [0, 1). */
  uniform(): number;
  /** Whole number in [0, below). */
  below(below: number): number;
}

/** The first numbers of neighbouring seeds are alike, and near 0 for small seeds; these are thrown away. */
const WARM_UP = 64;

/**
 * @param seed  Whole number; 32 bits of it count.
 * Source       xoroshiro128+ (Blackman & Vigna 2018), as in the package pure-rand.
 */
export function randomStream(seed: number): RandomStream {
  const generator = xoroshiro128plus(seed | 0);
  const uniform = (): number => uniformFloat64(generator);
  for (let i = 0; i < WARM_UP; i++) uniform();
  return { uniform, below: (below) => Math.floor(uniform() * below) };
}
