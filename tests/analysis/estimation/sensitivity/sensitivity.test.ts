import { expect, test } from "vitest";
import { randomStream } from "../../../../analysis/estimation/bootstrap/randomStream.ts";
import { claytonCopula } from "../../../../analysis/estimation/sensitivity/claytonCopula.ts";
import {
  dependenceSensitivity,
  type WatchedLife,
} from "../../../../analysis/estimation/sensitivity/dependenceSensitivity.ts";
import {
  detectionSensitivity,
  type InspectedLife,
} from "../../../../analysis/estimation/sensitivity/imperfectDetection.ts";
import { found } from "../../../support/estimation/found.ts";
import { weibullAge } from "../../../support/estimation/randomLives.ts";

test("the copula: margins, independence at 0, and P(X > x | Y = y) as the slope of the joint probability", () => {
  for (const tau of [0, 0.3, 0.6]) {
    const { joint, given } = claytonCopula(tau);
    expect(joint(Math.log(0.37), 0)).toBeCloseTo(0.37, 12);
    expect(given(0, Math.log(0.2))).toBeCloseTo(1, 12);
    const at = (v: number): number => joint(Math.log(0.4), Math.log(v));
    expect(given(Math.log(0.4), Math.log(0.7))).toBeCloseTo((at(0.7 + 1e-6) - at(0.7 - 1e-6)) / 2e-6, 7);
  }
  // By hand: tau 1/3 is a = 1, so 1 / (1/u + 1/v - 1).
  expect(claytonCopula(1 / 3).joint(Math.log(0.5), Math.log(0.25))).toBeCloseTo(1 / (2 + 4 - 1), 12);
});

/** Pairs of ages that hang together by Clayton's copula, drawn by inverting P(U > u | V = v). */
function watched(seed: number, n: number, tau: number): WatchedLife[] {
  const random = randomStream(seed);
  const a = (2 * tau) / (1 - tau);
  return Array.from({ length: n }, (): WatchedLife => {
    const v = random.uniform();
    const w = random.uniform();
    const u = tau === 0 ? w : ((w ** (-a / (1 + a)) - 1) * v ** -a + 1) ** (-1 / a);
    const own = 300 * (-Math.log(u)) ** (1 / 2);
    const other = 400 * (-Math.log(v)) ** (1 / 1.5);
    for (let look = 90; ; look += 90) {
      if (other <= look) {
        return own <= other
          ? { lower: look - 90, upper: other, failedOtherwiseAt: other }
          : { lower: other, upper: null, failedOtherwiseAt: other };
      }
      if (own <= look) return { lower: look - 90, upper: look, failedOtherwiseAt: null };
      if (look >= 540) return { lower: look, upper: null, failedOtherwiseAt: null };
    }
  });
}

test("tau 0 is the plain fit", () => {
  const lives = watched(3, 150, 0.3);
  const { rows, share, isWorthShowing } = dependenceSensitivity(lives, "h");
  const { fit } = found(lives.map(({ lower, upper }) => ({ lower, upper })));
  expect(rows[0]!.shape! / fit.shape).toBeCloseTo(1, 5);
  expect(rows[0]!.scale! / fit.scale).toBeCloseTo(1, 5);
  expect(rows.map(({ tau }) => tau)).toEqual([0, 0.3, 0.6]);
  expect(share).toBeGreaterThan(0.1);
  expect(isWorthShowing).toBe(true);
});

test("ages simulated with tau 0.6: the row of 0.6 recovers the median of 250 h, where the row of 0 is off", () => {
  const { rows } = dependenceSensitivity(watched(4, 2_000, 0.6), "h");
  const truth = 300 * Math.LN2 ** 0.5;
  const off = rows.map(({ median }) => Math.abs(Math.log(median! / truth)));
  expect(off[2]).toBeLessThan(0.03);
  expect(off[0]).toBeGreaterThan(2 * off[2]!);
});

test("without another failure, or without this one, the rows say that there is nothing to read", () => {
  const none = dependenceSensitivity([{ lower: 10, upper: 20, failedOtherwiseAt: null }], "h");
  expect(none.rows.every(({ b10 }) => b10 === null)).toBe(true);
  expect(none.notices).toMatchObject([{ code: "margin-without-maximum" }]);
  expect(none.isWorthShowing).toBe(false);
  expect(() => dependenceSensitivity([], "h")).toThrowError(/no-lives/);
  expect(() => dependenceSensitivity(watched(1, 5, 0), "h", [1])).toThrowError(/tau/);
});

/** Looks every 60 h up to 600 h, each of which sees a defect with the given probability. */
function inspected(seed: number, n: number, detection: number): InspectedLife[] {
  const random = randomStream(seed);
  return Array.from({ length: n }, (): InspectedLife => {
    const age = weibullAge(random.uniform, 2.2, 300);
    const looks: number[] = [];
    for (let look = 60; look <= 600; look += 60) {
      looks.push(look);
      if (age <= look && random.uniform() < detection) return { looks, found: true };
    }
    return { looks, found: false };
  });
}

test("a look that sees everything is the plain fit between looks", () => {
  const lives = inspected(7, 120, 1);
  const { rows } = detectionSensitivity(lives, "h");
  const { fit } = found(
    lives.map(({ looks, found: seen }) =>
      seen ? { lower: looks.at(-2) ?? 0, upper: looks.at(-1)! } : { lower: looks.at(-1)!, upper: null },
    ),
  );
  expect(rows[0]!.shape! / fit.shape).toBeCloseTo(1, 5);
  expect(rows[0]!.scale! / fit.scale).toBeCloseTo(1, 5);
  expect(rows[0]!.logLikelihood).toBeCloseTo(fit.logLikelihood, 7);
  // The less a look sees, the earlier the defects must have come.
  const medians = rows.map(({ median }) => median!);
  expect([...medians].sort((a, b) => b - a)).toEqual(medians);
});

test("looks that see 70 %: the row of 0.7 recovers the law, where the plain fit takes life for longer", () => {
  const { rows } = detectionSensitivity(inspected(8, 2_000, 0.7), "h");
  const truth = 300 * Math.LN2 ** (1 / 2.2);
  const ratio = rows.map(({ median }) => median! / truth);
  expect(Math.abs(ratio[3]! - 1)).toBeLessThan(0.03);
  expect(ratio[0]).toBeGreaterThan(1.08);
});

// Each probability written out by hand for one and for two looks, q = 0.8.
test("the likelihood of one and two looks, by hand, and that its top was found", () => {
  const lives: InspectedLife[] = [
    ...Array.from({ length: 40 }, () => ({ looks: [10], found: true })),
    ...Array.from({ length: 32 }, () => ({ looks: [10], found: false })),
    ...Array.from({ length: 28 }, () => ({ looks: [10, 20], found: true })),
    ...Array.from({ length: 25 }, () => ({ looks: [10, 20], found: false })),
  ];
  const [row] = detectionSensitivity(lives, "h", [0.8]).rows;
  const probability = (law: { shape: number; scale: number }): number => {
    const survival = (age: number): number => Math.exp(-((age / law.scale) ** law.shape));
    const first = 1 - survival(10);
    const second = first * 0.2 + survival(10) - survival(20);
    const none = [survival(10) + first * 0.2, survival(20) + second * 0.2] as const;
    const seen = 40 * Math.log(first * 0.8) + 28 * Math.log(second * 0.8);
    return seen + 32 * Math.log(none[0]) + 25 * Math.log(none[1]);
  };
  expect(row!.logLikelihood).toBeCloseTo(probability({ shape: row!.shape!, scale: row!.scale! }), 9);
  for (const nudge of [0.99, 1.01]) {
    expect(probability({ shape: row!.shape! * nudge, scale: row!.scale! })).toBeLessThan(row!.logLikelihood!);
    expect(probability({ shape: row!.shape!, scale: row!.scale! * nudge })).toBeLessThan(row!.logLikelihood!);
  }
});

test("lives that nobody looked at are left out and counted; a detection of 0 is refused", () => {
  const lives = [...inspected(9, 30, 1), { looks: [], found: false }];
  const result = detectionSensitivity(lives, "h");
  expect(result.lives).toBe(30);
  expect(result.notices).toEqual([{ code: "looks-missing", facts: { lives: 1 } }]);
  expect(() => detectionSensitivity(lives, "h", [0])).toThrowError(/detection/);
  expect(() => detectionSensitivity([{ looks: [5], found: true, entry: 6 }], "h")).toThrowError(/bad-life/);
});
