import type { Estimate, ItemLifeResult, LifeHistory, PlotPoint, SurvivalStep } from "../../../analysis/index.ts";
import { definition, provenance, toolType, wholeScope } from "./common.ts";
import {
  betweens,
  curveOf,
  fitWeibull,
  noEstimate,
  productLimitSteps,
  quantileOf,
  survivalAt,
  turnbull,
} from "./estimate.ts";
import { simulateHistories } from "./simulate.ts";

export interface ItemLifeFixtureOptions {
  /** Number of lives; 10 to 2,000 are sensible. */
  readonly lives?: number;
  readonly seed?: number;
  /** True: an evident mode (leak) with exact ages and a product-limit curve. False: hidden (extrusion), Turnbull. */
  readonly evident?: boolean;
  readonly shape?: number;
  readonly scale?: number;
}

const highEnd = (age: LifeHistory["lower"]): number => (typeof age === "number" ? age : age[1]);

/** Main seals of an invented axial damper, 6 1/2 in: how long they last. `{ scale: 1e6 }` gives no failures and no fit. */
export function itemLifeFixture({
  lives: count = 120,
  seed = 7,
  evident = false,
  shape = 2.1,
  scale = 520,
}: ItemLifeFixtureOptions = {}): ItemLifeResult {
  const histories = simulateHistories({ lives: count, seed, shape, scale, evident });
  const known = betweens(histories);
  const of = (kind: LifeHistory["kind"]): number => histories.filter((life) => life.kind === kind).length;
  const failures = of("exact") + of("interval") + of("left");
  const fit = failures > 1 ? fitWeibull(known) : null;
  const longestAge = Math.max(...histories.map((life) => highEnd(life.upper ?? life.lower)));
  const steps = evident ? productLimitSteps(known) : turnbull(known);
  const missing = (unit: Estimate["unit"]) => noEstimate(unit, failures === 0 ? "no failures" : "no maximum");
  const [shapeValue, scaleValue] = fit ? fit.at.map(Math.exp) : [];
  const around = (value: number | undefined, variance: number | undefined, unit: Estimate["unit"]): Estimate => {
    if (value === undefined || variance === undefined) return missing(unit);
    const spread = Math.exp(1.6449 * Math.sqrt(variance));
    return { value, lower: value / spread, upper: value * spread, confidence: 0.9, method: "Wald", unit };
  };
  const b10 = fit ? quantileOf(fit, 0.1) : missing("h");
  const median = fit ? quantileOf(fit, 0.5) : missing("h");
  const [reliability, low, high] = fit ? survivalAt(fit, 250) : [];
  const grid = fit
    ? curveOf(fit, Math.max(longestAge, Math.min(1.25 * longestAge, 1.15 * (median.upper ?? longestAge))))
    : null;
  const mode = evident ? "leak" : "extrusion";
  const scope = { ...wholeScope, item: "main seal", mode };
  return {
    kind: "item life",
    definition: definition("item life", scope),
    provenance,
    scope,
    item: "main seal",
    mode,
    toolTypes: [toolType],
    sizesIn: [6.5],
    failureDefinition: {
      modes: [
        {
          item: "main seal",
          mode,
          threshold: 3,
          announces: evident ? "evident" : "hidden",
          restoredBy: "renewed",
          leadsTo: evident ? null : "leak",
        },
      ],
      statements: ["A rebuild here renews the main seal and the stack; joints only where the threads are new."],
      clock: "operating hours",
      hoursKind: "circulating",
    },
    counts: {
      lives: histories.length,
      serials: new Set(histories.map((life) => life.serial)).size,
      failures,
      exact: of("exact"),
      interval: of("interval"),
      left: of("left"),
      right: of("right"),
      leftTruncated: histories.filter((life) => life.entry > 0).length,
      noInformation: Math.round(count / 14),
      excluded: 3,
      looks: histories.filter((life) => life.looks.length > 0).length,
      informativeLooks: histories.filter((life) => life.informative).length,
      soundByScope: histories.flatMap((life) => life.looks).filter((look) => look.found === "sound by scope").length,
    },
    excluded: [
      { reason: "age unknown when records begin", count: 2 },
      { reason: "build reject", count: 1 },
    ],
    noInformation: [{ reason: "not looked at since restored", count: Math.round(count / 14) }],
    bounds: { method: "Wald", why: "asked for", serialsAlike: null, bySerial: null },
    shapeTaken: null,
    fit: fit
      ? {
          distribution: "weibull",
          shape: around(shapeValue, fit.covariance[0], "none"),
          scale: around(scaleValue, fit.covariance[2], "h"),
          logLikelihood: fit.logLikelihood,
          iterations: 7,
          largestScore: 1e-9,
        }
      : null,
    readings: {
      b10,
      median,
      mean: fit && grid ? { ...median, value: meanOf(fit.at) } : missing("h"),
      statedAge: 250,
      reliability:
        reliability === undefined || low === undefined || high === undefined
          ? missing("fraction")
          : { value: reliability, lower: low, upper: high, confidence: 0.9, method: "Wald", unit: "fraction" },
    },
    survival: grid,
    longestAge,
    nonparametric: {
      band: null,
      method: evident ? "product-limit" : "Turnbull",
      boundsMethod: evident ? "log-log" : null,
      steps,
    },
    plotPoints: plotPoints(histories, steps),
    histories: histories.slice(0, 2000),
    laws: [],
    linked: null,
    sensitivity: [],
    notices: [{ code: "invented-data", facts: {} }],
  };
}

/** Mean of the fitted law by the trapezoid rule. */
function meanOf([a, b]: readonly [number, number]): number {
  const [shape, scale] = [Math.exp(a), Math.exp(b)];
  let sum = 0;
  for (let step = 0; step < 2000; step++) sum += Math.exp(-(((step + 0.5) / 100) ** shape)) / 100;
  return sum * scale;
}

/** One point a failure: its known interval, at the fraction failed in its middle by the nonparametric curve. */
function plotPoints(histories: readonly LifeHistory[], steps: readonly SurvivalStep[]): PlotPoint[] {
  const failedAt = (age: number): number => {
    let before = 1;
    for (const step of steps) {
      if (age < step.from) return 1 - before;
      if (age <= step.to) {
        const part = step.to > step.from ? (age - step.from) / (step.to - step.from) : 0.5;
        return 1 - (before + part * (step.survival - before));
      }
      before = step.survival;
    }
    return 1 - before;
  };
  return betweens(histories)
    .filter((life) => Number.isFinite(life.upper))
    .map((life) => ({
      low: life.lower,
      high: life.upper,
      failedFraction: Math.max(0.3 / histories.length, failedAt((life.lower + life.upper) / 2)),
      lifeIds: [life.id],
    }))
    .sort((p, q) => p.failedFraction - q.failedFraction || p.high - q.high);
}
