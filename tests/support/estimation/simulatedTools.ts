import { randomStream } from "../../../analysis/estimation/bootstrap/randomStream.ts";
import type { ToolCell } from "../../../analysis/estimation/toolSpread.ts";

export interface ToolWorld {
  readonly tools: number;
  /** Variance of the gamma factor that a tool's rate has, mean 1; 0: tools alike. */
  readonly spread: number;
  /** "on both sides": the same tools ran before and after. "on one side": each ran before, or after. */
  readonly ran: "on both sides" | "on one side";
  readonly ratio: number;
  /** Failures expected before and, with a ratio of 1, after. */
  readonly expected: readonly [before: number, after: number];
}

/** Bands of age: relative rate, and share of the hours before and after. After the change items are younger. */
const bands = [
  { rate: 0.3, before: 0.3, after: 0.4 },
  { rate: 0.6, before: 0.3, after: 0.35 },
  { rate: 1, before: 0.2, after: 0.2 },
  { rate: 1.5, before: 0.15, after: 0.05 },
  { rate: 2.2, before: 0.05, after: 0 },
] as const;

/** One invented fleet whose tools differ as said, by seed. */
export function simulatedTools({ tools, spread, ran, ratio, expected }: ToolWorld, seed: number): readonly ToolCell[] {
  const stream = randomStream(seed);
  const fleet = Array.from({ length: tools }, (_, index) => ({
    index,
    hours: 500 + 1500 * stream.uniform(),
    factor: spread === 0 ? 1 : spread * gammaDraw(1 / spread, stream.uniform),
  }));
  const sides = (["before", "after"] as const).map((side) => {
    const there = fleet.filter(({ index }) => ran === "on both sides" || (side === "before") === (index % 2 === 0));
    const risk =
      there.reduce((sum, one) => sum + one.hours, 0) * bands.reduce((sum, band) => sum + band.rate * band[side], 0);
    return { side, there, risk };
  });
  // One base rate for both sides: hours after are stretched until they bring the failures expected.
  const base = expected[0] / sides[0]!.risk;
  const stretch = expected[1] / (base * sides[1]!.risk);
  return sides.flatMap(({ side, there }) =>
    there.flatMap(({ index, hours, factor }) =>
      bands.flatMap(({ rate, [side]: share }, band): ToolCell[] => {
        const own = hours * share * (side === "after" ? stretch : 1);
        if (own === 0) return [];
        const mean = base * rate * own * factor * (side === "after" ? ratio : 1);
        return [
          { tool: `T${index}`, stratum: `${band}`, side, hours: own, failures: poissonDraw(mean, stream.uniform) },
        ];
      }),
    ),
  );
}

function poissonDraw(mean: number, uniform: () => number): number {
  let [count, left] = [0, uniform()];
  for (let chance = Math.exp(-mean); left > chance && count < 1000; chance *= mean / count) {
    left -= chance;
    count += 1;
  }
  return count;
}

/** Marsaglia & Tsang (2000), ACM Trans. Math. Softw. 26, 363-372; below 1 by the power of a uniform. */
function gammaDraw(shape: number, uniform: () => number): number {
  if (shape < 1) return gammaDraw(shape + 1, uniform) * uniform() ** (1 / shape);
  const d = shape - 1 / 3;
  for (;;) {
    const x = Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
    const v = (1 + x / Math.sqrt(9 * d)) ** 3;
    if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}
