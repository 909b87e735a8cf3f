/** Small, plain estimators that make the fixtures' numbers hang together. Pictures only; the engine is `analysis/`. */
import type { CurveOnGrid, Estimate, LifeHistory, SurvivalStep } from "../../../analysis/index.ts";

const middle = (age: LifeHistory["lower"]): number => (typeof age === "number" ? age : (age[0] + age[1]) / 2);

export interface Between {
  readonly id: string;
  readonly lower: number;
  readonly upper: number;
  readonly entry: number;
}

export const betweens = (histories: readonly LifeHistory[]): Between[] =>
  histories.map((life) => ({
    id: life.lifeId,
    lower: middle(life.lower),
    upper: life.upper === null ? Number.POSITIVE_INFINITY : middle(life.upper),
    entry: life.entry,
  }));

/** Log-likelihood of a Weibull law at (log shape, log scale). */
function logLikelihood(lives: readonly Between[], [a, b]: readonly [number, number]): number {
  const shape = Math.exp(a);
  const hazard = (t: number): number => (t === Number.POSITIVE_INFINITY ? t : (t / Math.exp(b)) ** shape);
  let sum = 0;
  for (const { lower, upper, entry } of lives) {
    sum += hazard(entry);
    sum +=
      lower === upper
        ? a - b + (shape - 1) * (Math.log(lower) - b) - hazard(lower)
        : Math.log(Math.exp(-hazard(lower)) - Math.exp(-hazard(upper)));
  }
  return sum;
}

export interface Fit {
  readonly at: readonly [number, number];
  readonly covariance: readonly [number, number, number];
  readonly logLikelihood: number;
}

/** Newton steps with differences, from a plain start; null where it does not settle. */
export function fitWeibull(lives: readonly Between[]): Fit | null {
  let at: [number, number] = [Math.log(1.5), Math.log(500)];
  const h = 1e-3;
  const f = (p: [number, number]) => logLikelihood(lives, p);
  for (let step = 0; step < 60; step++) {
    const here = f(at);
    const [pa, ma] = [f([at[0] + h, at[1]]), f([at[0] - h, at[1]])];
    const [pb, mb] = [f([at[0], at[1] + h]), f([at[0], at[1] - h])];
    const cross =
      (f([at[0] + h, at[1] + h]) - f([at[0] + h, at[1] - h]) - f([at[0] - h, at[1] + h]) + f([at[0] - h, at[1] - h])) /
      (4 * h * h);
    const [ga, gb] = [(pa - ma) / (2 * h), (pb - mb) / (2 * h)];
    const [haa, hbb] = [-(pa - 2 * here + ma) / (h * h), -(pb - 2 * here + mb) / (h * h)];
    const det = haa * hbb - cross * cross;
    if (!(det > 0)) return null;
    const clip = (d: number) => Math.max(-0.3, Math.min(0.3, d));
    const da = (hbb * ga + cross * gb) / det;
    const db = (haa * gb + cross * ga) / det;
    if (Math.abs(da) + Math.abs(db) < 1e-7) {
      return { at, covariance: [hbb / det, cross / det, haa / det], logLikelihood: here };
    }
    at = [at[0] + clip(da), at[1] + clip(db)];
  }
  return null;
}

const z90 = 1.6449;

export const noEstimate = (unit: Estimate["unit"], why: NonNullable<Estimate["why"]>): Estimate => ({
  value: null,
  lower: null,
  upper: null,
  confidence: 0.9,
  method: "none",
  unit,
  why,
});

/** Age by which a fraction has failed, with bounds on the log scale. */
export function quantileOf({ at: [a, b], covariance: [vaa, vab, vbb] }: Fit, failed: number): Estimate {
  const w = Math.log(-Math.log(1 - failed)) / Math.exp(a);
  const deviation = Math.sqrt(Math.max(0, vbb - 2 * w * vab + w * w * vaa));
  const value = Math.exp(b + w);
  const spread = Math.exp(z90 * deviation);
  return { value, lower: value / spread, upper: value * spread, confidence: 0.9, method: "Wald", unit: "h" };
}

/** Survival at an age with bounds on the log(-log) scale. */
export function survivalAt({ at: [a, b], covariance: [vaa, vab, vbb] }: Fit, age: number): [number, number, number] {
  if (age <= 0) return [1, 1, 1];
  const shape = Math.exp(a);
  const u = shape * (Math.log(age) - b);
  const deviation = Math.sqrt(Math.max(0, u * u * vaa - 2 * u * shape * vab + shape * shape * vbb));
  const s = (value: number) => Math.exp(-Math.exp(value));
  return [s(u), s(u + z90 * deviation), s(u - z90 * deviation)];
}

export function curveOf(fit: Fit, to: number): CurveOnGrid {
  const age = Array.from({ length: 101 }, (_, index) => (to * index) / 100);
  const rows = age.map((at) => survivalAt(fit, at));
  return { age, value: rows.map((r) => r[0]), lower: rows.map((r) => r[1]), upper: rows.map((r) => r[2]) };
}

/** Self-consistent survival of lives known between ages; an exact failure is a box of no width. */
export function turnbull(lives: readonly Between[]): SurvivalStep[] {
  const ends = [
    ...lives.map((l) => ({ at: l.lower, left: true, exact: l.lower === l.upper })),
    ...lives
      .filter((l) => Number.isFinite(l.upper))
      .map((l) => ({ at: l.upper, left: false, exact: l.lower === l.upper })),
  ].sort((p, q) => p.at - q.at || Number(q.exact) - Number(p.exact) || Number(p.left === q.left ? 0 : p.left ? -1 : 1));
  const boxes: { from: number; to: number; mass: number }[] = [];
  for (let index = 1; index < ends.length; index++) {
    const [p, q] = [ends[index - 1], ends[index]];
    if (p?.left && q && !q.left && p.at <= q.at) boxes.push({ from: p.at, to: q.at, mass: 1 });
  }
  const unique = boxes.filter((box, i) => i === 0 || box.from !== boxes[i - 1]?.from || box.to !== boxes[i - 1]?.to);
  unique.push({ from: Number.POSITIVE_INFINITY, to: Number.POSITIVE_INFINITY, mass: 1 });
  for (const box of unique) box.mass = 1 / unique.length;
  const holds = (l: Between, box: { from: number; to: number }) =>
    l.lower === l.upper ? box.from === l.lower && box.to === l.lower : box.from >= l.lower && box.to <= l.upper;
  const within = lives.map((life) => unique.map((box, i) => (holds(life, box) ? i : -1)).filter((i) => i >= 0));
  for (let round = 0; round < 400; round++) {
    const next = unique.map(() => 0);
    for (const inside of within) {
      const total = inside.reduce((sum, i) => sum + (unique[i]?.mass ?? 0), 0);
      if (total > 0) for (const i of inside) next[i] = (next[i] ?? 0) + (unique[i]?.mass ?? 0) / total;
    }
    unique.forEach((box, i) => {
      box.mass = (next[i] ?? 0) / lives.length;
    });
  }
  let survival = 1;
  const steps: SurvivalStep[] = [];
  for (const box of unique) {
    if (!Number.isFinite(box.from) || box.mass < 1e-4) continue;
    survival = Math.max(0, survival - box.mass);
    steps.push({ from: box.from, to: box.to, survival, lower: null, upper: null, atRisk: null, failures: null });
  }
  return steps;
}

/** Product-limit steps with log-log bounds; what failed between two ages is put in the middle. */
export function productLimitSteps(lives: readonly Between[]): SurvivalStep[] {
  const rows = lives
    .map((l) => ({
      at: Number.isFinite(l.upper) ? (l.lower + l.upper) / 2 : l.lower,
      failed: Number.isFinite(l.upper),
    }))
    .sort((p, q) => p.at - q.at);
  let survival = 1;
  let sum = 0;
  return rows.flatMap((row, index): SurvivalStep[] => {
    if (!row.failed) return [];
    const atRisk = rows.length - index;
    survival *= 1 - 1 / atRisk;
    sum += 1 / (atRisk * Math.max(1, atRisk - 1));
    const spread = (z90 * Math.sqrt(sum)) / Math.log(survival || 0.001);
    const bound = (sign: number) => survival ** Math.exp(sign * spread);
    const [lower, upper] = [bound(-1), bound(1)].sort((p, q) => p - q);
    return [{ from: row.at, to: row.at, survival, lower: lower ?? null, upper: upper ?? null, atRisk, failures: 1 }];
  });
}

/** Failures per 1,000 h with exact bounds: each bound is the mean at which the count's tail holds 5 %. */
export function rateOf(failures: number, hours: number): Estimate {
  if (hours <= 0) return { ...noEstimate("per 1,000 h", "no hours") };
  const atMost = (count: number, mean: number): number => {
    let term = Math.exp(-mean);
    let sum = term;
    for (let k = 1; k <= count; k++) {
      term *= mean / k;
      sum += term;
    }
    return sum;
  };
  const solve = (count: number, target: number): number => {
    let [low, high] = [0, 4 * count + 20];
    for (let step = 0; step < 80; step++) {
      const mean = (low + high) / 2;
      if (atMost(count, mean) > target) low = mean;
      else high = mean;
    }
    return low;
  };
  return {
    value: (failures / hours) * 1000,
    lower: failures === 0 ? 0 : (solve(failures - 1, 0.95) / hours) * 1000,
    upper: (solve(failures, 0.05) / hours) * 1000,
    confidence: 0.9,
    method: "exact Poisson",
    unit: "per 1,000 h",
  };
}
