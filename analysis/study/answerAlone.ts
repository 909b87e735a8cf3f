import type { LifeLaw } from "../distributions/lifeLaw.ts";
import { weibull } from "../distributions/weibull.ts";
import type { LawMaximum } from "../estimation/fitLaw.ts";
import { fitWeibull } from "../estimation/fitWeibull.ts";
import type { LifeSample } from "../estimation/types.ts";
import { probabilityPlot } from "../nonparametric/probabilityPlot.ts";
import { answerByLaw } from "./answerByLaw.ts";
import { answerWithShape, priorOf } from "./answerWithShape.ts";
import { chooseBounds } from "./chooseBounds.ts";
import { gridOfAges } from "./gridOfAges.ts";
import type { PooledShape } from "./pooledShape.ts";
import { serialsAlike } from "./serialsAlike.ts";
import { type SettledLife, sampleOf } from "./settleAges.ts";
import { shareStillGood } from "./shareStillGood.ts";
import { type Steps, survivalSteps } from "./survivalSteps.ts";
import type { BoundsUsed, Estimate, ItemLifeResult, Notice, ShapeTaken, StudyDefinition } from "./types.ts";
import { weibullReadings } from "./weibullReadings.ts";

/** What the lives say: fit, readings, line, steps, or why they say nothing. */
export interface Answer extends Pick<ItemLifeResult, "fit" | "readings" | "survival" | "plotPoints"> {
  readonly maximum: LawMaximum;
  readonly law: Pick<LifeLaw, "survival" | "cumulativeHazard"> | null;
  readonly bounds: BoundsUsed;
  readonly shapeTaken: ShapeTaken | null;
  readonly notices: readonly Notice[];
  readonly steps: Steps;
  /** The lives as fitted; null for a joint fit or no lives. */
  readonly sample: LifeSample | null;
}

export const usualBounds: BoundsUsed = { method: "likelihood ratio", why: "usual", serialsAlike: null, bySerial: null };

interface Question {
  readonly settled: readonly SettledLife[];
  readonly statedAge: number;
  readonly longestAge: number;
  /** Two-sided. */
  readonly confidence: number;
  readonly definition: StudyDefinition;
  /** Asked only where the shape is to be pooled. */
  readonly pooled: () => PooledShape | null;
  readonly onShare: ((share: number) => void) | undefined;
}

/** The answer from the lives of one mode by themselves. */
export function answerAlone(question: Question): Answer {
  const { settled, statedAge, longestAge, confidence, definition } = question;
  const { law: choice = "weibull", shape: shapeChoice } = definition;
  const steps = survivalSteps(settled, confidence);
  const sample = settled.length > 0 ? sampleOf(settled) : null;
  const plotPoints = sample && settled.some(({ upper }) => upper !== null) ? probabilityPlot(steps.sample) : [];
  const common = { plotPoints, steps, sample, bounds: usualBounds, shapeTaken: null } as const;
  const notices: Notice[] = [];
  const withoutMaximum = (maximum: LawMaximum): Answer => {
    const none = noReadings(maximum, statedAge, confidence);
    const reliability =
      maximum === "no failures"
        ? successRun(settled, statedAge, confidence)
        : (shareStillGood(settled, statedAge, confidence) ?? none.reliability);
    const readings = { ...none, reliability };
    return { ...common, maximum, fit: null, law: null, readings, survival: null, notices };
  };
  if (!sample || longestAge === 0) return withoutMaximum("no failures");

  if (choice !== "weibull") {
    if (shapeChoice !== undefined) notices.push({ code: "shape-not-taken", facts: { why: "other law" } });
    if (definition.bounds === "by serial")
      notices.push({ code: "bounds-not-as-asked", facts: { asked: "by serial", why: "other law" } });
    const method = definition.bounds === "Wald" ? "Wald" : "likelihood ratio";
    const chosen = answerByLaw(sample, choice, statedAge, confidence, (half) => gridOfAges(half, longestAge), method);
    if (typeof chosen === "string") return withoutMaximum(chosen);
    const alike = serialsAlike(settled, chosen.law);
    const why = definition.bounds === method ? "asked for" : "usual";
    const bounds = { method, why, serialsAlike: alike, bySerial: null } as const;
    return { ...common, maximum: "found", ...chosen, bounds, notices };
  }

  if (shapeChoice !== undefined) {
    const pooled = shapeChoice.kind === "pooled" ? question.pooled() : null;
    const prior = priorOf(shapeChoice, pooled);
    if (prior !== null) {
      const taken = answerWithShape(sample, shapeChoice, prior, pooled, statedAge, longestAge, confidence);
      const { fit, readings, survival, law, taken: shapeTaken } = taken;
      return {
        ...common,
        maximum: fit === null ? "no failures" : "found",
        fit,
        readings,
        survival,
        law: fit === null ? null : weibull(law),
        bounds: { method: "shape taken", why: "asked for", serialsAlike: null, bySerial: null },
        shapeTaken,
        notices: [...taken.notices, shapeNotice(shapeTaken)],
      };
    }
    notices.push({ code: "shape-not-taken", facts: { why: "nothing to pool" } });
  }

  const fitted = fitWeibull(sample);
  if (fitted.maximum !== "found") return withoutMaximum(fitted.maximum);
  const law = weibull({ shape: fitted.shape, scale: fitted.scale });
  const alike = serialsAlike(settled, law);
  const chosen = chooseBounds(settled, sample, fitted, alike, confidence, definition, question.onShare);
  return {
    ...common,
    maximum: "found",
    law,
    ...weibullReadings(fitted, chosen.bounds, statedAge, longestAge, confidence),
    bounds: chosen.used,
    notices: [...notices, ...chosen.notices],
  };
}

const shapeNotice = ({ kind, low, high, sure, pooledFrom }: ShapeTaken): Notice => ({
  code: "shape-taken",
  facts: { kind, low, high, sure, groups: pooledFrom?.groups ?? null, failures: pooledFrom?.failures ?? null },
});

/**
 * Without a failure no law can be fitted, but n lives followed to an age without one still bound the survival there:
 * lower = a^(1/n), a = (1 - confidence) / 2 so that the two-sided level is kept.
 * Source  Clopper & Pearson (1934), Biometrika 26, 404-413, no failures.
 */
function successRun(settled: readonly SettledLife[], age: number, confidence: number): Estimate {
  const n = settled.filter(({ lower, entry }) => lower >= age && entry === 0).length;
  const lower = n === 0 ? null : ((1 - confidence) / 2) ** (1 / n);
  return {
    value: null,
    lower,
    upper: null,
    confidence,
    method: n === 0 ? "none" : "success run",
    unit: "fraction",
    why: "no failures",
  };
}

export function noReadings(maximum: LawMaximum, statedAge: number, confidence: number): ItemLifeResult["readings"] {
  const why = maximum === "no failures" ? "no failures" : "no maximum";
  const none = (unit: Estimate["unit"]): Estimate => ({
    value: null,
    lower: null,
    upper: null,
    confidence,
    method: "none",
    unit,
    why,
  });
  return { b10: none("h"), median: none("h"), mean: none("h"), statedAge, reliability: none("fraction") };
}
