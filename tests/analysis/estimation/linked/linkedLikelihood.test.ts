// The likelihood of sound-defective-failed histories against its definition by brute force (tests/support/slowLinked.ts),
// against drawn pairs, and by its own laws. No published numbers were found for this model with these kinds of history.
import { describe, expect, test } from "vitest";
import { hessianAt, linkedLikelihood } from "../../../../analysis/estimation/linked/linkedLikelihood.ts";
import type { LinkedHistory, WeibullPair } from "../../../../analysis/estimation/linked/types.ts";
import { uniforms } from "../../../support/estimation/randomLives.ts";
import { drawnProbability, slowProbability } from "../../../support/slowLinked.ts";

const history = (
  defect: readonly [number, number | null],
  failure: readonly [number, number | null],
  entry = 0,
): LinkedHistory => ({
  defect: { from: defect[0], to: defect[1] },
  failure: { from: failure[0], to: failure[1] },
  entry,
});

/** Every kind of what is known: the defect's age exact, between looks, by the first look, not yet; the failure's likewise. */
const histories: readonly (readonly [string, LinkedHistory])[] = [
  ["both ages known", history([50, 50], [80, 80])],
  ["defect between looks, failure at a noted hour", history([20, 70], [80, 80])],
  ["defect by the failure, hour noted", history([0, 80], [80, 80])],
  ["defect after the last clean look, hour noted", history([30, null], [80, 80])],
  ["defect at a known age, failure in a run", history([50, 50], [60, 80])],
  ["defect at a known age inside the run of the failure", history([50, 50], [40, 80])],
  ["defect between looks, failure in a run", history([20, 70], [60, 90])],
  ["defect after the last clean look, failure in a run", history([20, null], [60, 90])],
  ["defect at a known age, not failed since", history([50, 50], [60, null])],
  ["defect found by a look, not failed", history([20, 70], [70, null])],
  ["defect found by a look, ran on without failing", history([20, 70], [100, null])],
  ["sound at the last look", history([60, null], [60, null])],
  ["nobody looked lately, not failed", history([20, null], [60, null])],
  ["nobody ever looked, not failed", history([0, null], [60, null])],
  ["entered at 40, failed in a run", history([40, null], [60, 90], 40)],
  ["entered at 40, defect found", history([40, 75], [75, null], 40)],
];
const laws: readonly (readonly [string, WeibullPair])[] = [
  ["wearing out, delay wearing out", { defect: { shape: 2, scale: 60 }, delay: { shape: 1.3, scale: 30 } }],
  ["early defects, early failures", { defect: { shape: 0.7, scale: 60 }, delay: { shape: 0.6, scale: 30 } }],
  ["constant rates", { defect: { shape: 1, scale: 90 }, delay: { shape: 1, scale: 60 } }],
  ["long delay", { defect: { shape: 2.5, scale: 40 }, delay: { shape: 1.8, scale: 200 } }],
];
const thetaOf = ({ defect, delay }: WeibullPair) =>
  Float64Array.of(Math.log(defect.shape), Math.log(defect.scale), Math.log(delay.shape), Math.log(delay.scale));
const valueAt = (all: readonly LinkedHistory[], theta: Float64Array) => linkedLikelihood(all, theta)[0]!;

describe.each(laws)("with laws: %s", (_name, pair) => {
  // The midpoints of the brute force are good to about 1e-6 where a density is steep at 0, to 1e-8 elsewhere.
  test.each(histories)("the log likelihood of one history is its definition: %s", (_history, one) => {
    expect(valueAt([one], thetaOf(pair))).toBeCloseTo(Math.log(slowProbability(one, pair)), 5);
  });

  test("it is the sum over histories, in any order", () => {
    const all = histories.map(([, one]) => one);
    const sum = all.reduce((total, one) => total + valueAt([one], thetaOf(pair)), 0);
    expect(valueAt(all, thetaOf(pair))).toBeCloseTo(sum, 10);
    expect(valueAt(all.toReversed(), thetaOf(pair))).toBeCloseTo(sum, 10);
  });

  test("gradient and Hessian are those of numerical differences", () => {
    const step = 1e-4;
    for (const [name, one] of histories) {
      const theta = thetaOf(pair);
      const jet = linkedLikelihood([one], theta);
      const shifted = (...moves: readonly (readonly [number, number])[]) => {
        const at = Float64Array.from(theta);
        for (const [parameter, by] of moves) at[parameter]! += by;
        return linkedLikelihood([one], at);
      };
      for (let i = 0; i < 4; i++) {
        const slope = (shifted([i, step])[0]! - shifted([i, -step])[0]!) / (2 * step);
        expect(Math.abs(jet[1 + i]! - slope), `${name}, gradient ${i}`).toBeLessThan(2e-5 * (1 + Math.abs(slope)));
        for (let j = i; j < 4; j++) {
          const bend = (shifted([j, step])[1 + i]! - shifted([j, -step])[1 + i]!) / (2 * step);
          expect(Math.abs(jet[hessianAt(i, j)]! - bend), `${name}, Hessian ${i}${j}`).toBeLessThan(
            2e-5 * (1 + Math.abs(bend)),
          );
        }
      }
    }
  });

  test("hours to days: exact ages lose the logarithm of 24 for each, the rest stays", () => {
    const inDays = ({ defect, failure, entry }: LinkedHistory): LinkedHistory => ({
      defect: { from: defect.from / 24, to: defect.to === null ? null : defect.to / 24 },
      failure: { from: failure.from / 24, to: failure.to === null ? null : failure.to / 24 },
      entry: entry / 24,
    });
    const theta = thetaOf(pair);
    const thetaInDays = theta.map((value, index) => (index % 2 === 0 ? value : value - Math.log(24)));
    for (const [, one] of histories) {
      const densities = Number(one.defect.from === one.defect.to) + Number(one.failure.from === one.failure.to);
      expect(valueAt([inDays(one)], thetaInDays)).toBeCloseTo(valueAt([one], theta) + densities * Math.log(24), 7);
    }
  });

  test("everything that can be seen of an item adds up to one", () => {
    // Looks at 40 and 90 and runs of 30: all that can be known of an item followed to 90.
    const cells: LinkedHistory[] = [];
    const looks = [0, 40, 90] as const;
    for (const [defectFrom, defectTo] of [
      [looks[0], looks[1]],
      [looks[1], looks[2]],
    ] as const) {
      const edges = [0, 30, 40, 60, 90].filter((edge) => edge >= defectFrom);
      for (let i = 1; i < edges.length; i++)
        if (edges[i]! > defectFrom) cells.push(history([defectFrom, defectTo], [edges[i - 1]!, edges[i]!]));
      cells.push(history([defectFrom, defectTo], [90, null]));
    }
    cells.push(history([90, null], [90, null]));
    const total = cells.reduce((sum, cell) => sum + Math.exp(valueAt([cell], thetaOf(pair))), 0);
    expect(total).toBeCloseTo(1, 6);
  });

  test("a failure in a short run is its density times the length of the run", () => {
    const width = 0.01;
    const inRun = valueAt([history([0, 80], [80 - width / 2, 80 + width / 2])], thetaOf(pair));
    const atHour = valueAt([history([0, 80], [80, 80])], thetaOf(pair));
    expect(inRun - Math.log(width)).toBeCloseTo(atHour, 2);
  });
});

test("pairs drawn from the laws fall into a history as often as its likelihood says", () => {
  const random = uniforms(5);
  const pair = laws[0]![1];
  for (const [, one] of histories) {
    const isDensity = one.defect.from === one.defect.to || one.failure.from === one.failure.to;
    if (isDensity) continue;
    const { share, standardError } = drawnProbability(one, pair, random, 40_000);
    expect(Math.abs(Math.exp(valueAt([one], thetaOf(pair))) - share)).toBeLessThan(4 * standardError + 1e-9);
  }
});

test("constant rates: the delay-time likelihood in closed form", () => {
  // D and H exponential with rates p and q: density of D + H = t, D in (0, t], is p q (exp(-p t) - exp(-q t)) / (q - p).
  const [p, q, t] = [1 / 90, 1 / 60, 80];
  const theta = thetaOf({ defect: { shape: 1, scale: 1 / p }, delay: { shape: 1, scale: 1 / q } });
  const failed = (p * q * (Math.exp(-p * t) - Math.exp(-q * t))) / (q - p);
  expect(valueAt([history([0, t], [t, t])], theta)).toBeCloseTo(Math.log(failed), 8);
  const alive = (q * Math.exp(-p * t) - p * Math.exp(-q * t)) / (q - p);
  expect(valueAt([history([0, null], [t, null])], theta)).toBeCloseTo(Math.log(alive), 8);
});

describe("steep laws", () => {
  const at = (pair: WeibullPair, one: LinkedHistory) => ({
    fast: valueAt([one], thetaOf(pair)),
    slow: Math.log(slowProbability(one, pair)),
  });
  const failed = history([0, 200], [200, 200]);

  test("a delay as wide as the defect's interval is right at shape 3", () => {
    const { fast, slow } = at({ defect: { shape: 2, scale: 200 }, delay: { shape: 3, scale: 100 } }, failed);
    expect(fast).toBeCloseTo(slow, 5);
  });

  // Nodes over the whole interval of the defect step over a narrow peak. The mark comes off when they no longer do.
  test("a delay of 50 h at shape 6 before a failure at 200 h", () => {
    const { fast, slow } = at({ defect: { shape: 2, scale: 200 }, delay: { shape: 6, scale: 50 } }, failed);
    expect(fast).toBeCloseTo(slow, 2);
  });

  test("a delay of 10 h at shape 4, and the limit of a delay that is all but 5 h", () => {
    for (const delay of [
      { shape: 4, scale: 10 },
      { shape: 20, scale: 5 },
    ]) {
      const { fast, slow } = at({ defect: { shape: 2, scale: 200 }, delay }, failed);
      expect(fast).toBeCloseTo(slow, 2);
    }
  });
});
