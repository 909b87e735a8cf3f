/**
 * Seeded random numbers in named streams, so that a switch that draws more numbers in one place moves nothing in
 * another. Deterministic on every platform: integer arithmetic for the draws, and the engine's own exp, log and cos,
 * which Node takes from one portable library (fdlibm) everywhere.
 */
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

export interface Draw {
  /** Uniform in [0, 1). */
  uniform(): number;
  between(from: number, to: number): number;
  /** Integer, both ends included. */
  integer(from: number, to: number): number;
  chance(probability: number): boolean;
  pick<T>(values: readonly T[]): T;
  normal(mean: number, sd: number): number;
  exponential(): number;
  /** Gamma with mean 1 and the given variance. Source: Marsaglia & Tsang (2000), ACM TOMS 26, 363-372. */
  gammaMeanOne(variance: number): number;
}

/** FNV-1a, 32 bits: turns a name into a seed. */
const hash = (text: string): number => {
  let value = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) value = Math.imul(value ^ text.charCodeAt(i), 0x01000193);
  return value | 0;
};

/** @param name of the stream; equal seed and name give the same numbers. */
export function randomStream(seed: number, name: string): Draw {
  const generator = xoroshiro128plus(hash(`${seed}/${name}`));
  const uniform = () => uniformFloat64(generator);
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return {
    uniform,
    between: (from, to) => from + (to - from) * uniform(),
    integer: (from, to) => from + Math.floor((to - from + 1) * uniform()),
    chance: (probability) => uniform() < probability,
    pick: (values) => {
      const value = values[Math.floor(values.length * uniform())];
      if (value === undefined) throw new RangeError("nothing to pick from");
      return value;
    },
    normal: (mean, sd) => mean + sd * normal(),
    exponential: () => -Math.log(1 - uniform()),
    gammaMeanOne: (variance) => {
      const shape = 1 / variance;
      const d = shape - 1 / 3;
      const c = 1 / Math.sqrt(9 * d);
      for (;;) {
        const x = normal();
        const v = (1 + c * x) ** 3;
        if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return (d * v) / shape;
      }
    },
  };
}
