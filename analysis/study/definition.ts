import { AnalysisError } from "../errors.ts";
import type { LivesDefinition } from "../lives/types.ts";
import { contentHash } from "./contentHash.ts";
import type { DecisionSettings } from "./decisionTypes.ts";
import type { Scope, StudyDefinition } from "./types.ts";

export const wholeScope: Scope = {
  toolType: null,
  sizeIn: null,
  item: null,
  mode: null,
  serial: null,
  customer: null,
  from: null,
  to: null,
};

/** Costs from the records, one in ten allowed, the shop's usual run. */
export const usualDecision: DecisionSettings = {
  plannedCost: null,
  failureCost: null,
  foundCost: null,
  allowedChance: 0.1,
  runHours: null,
  wellC: null,
};

/** The sound default: 90 % two-sided, missing hours at the shop's rate, a hidden mode enters only if seen sound. */
export function defaultStudy(question: StudyDefinition["question"], scope: Partial<Scope> = {}): StudyDefinition {
  return {
    question,
    scope: { ...wholeScope, ...scope },
    cutoff: null,
    thresholds: {},
    refittedMeansSound: false,
    hoursKind: null,
    missingHours: "shop rate",
    confidence: 0.9,
    statedAge: null,
    seed: 1,
  };
}

export const studyHash = (definition: StudyDefinition): string => contentHash(definition);

/** degC; below it a temperature is a slip of the pen. */
const COLDEST = -50;

/**
 * Errors  "bad-setting" for a confidence outside (0, 1), or not above 0.5 where one-sided; a stated age or a fixed shape that is not
 *         positive; a cost below 0. A range of shapes is checked where it is used.
 */
export function checkStudy({ confidence, statedAge, sides, shape, decision = usualDecision }: StudyDefinition): void {
  if (!(confidence > 0 && confidence < 1))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence });
  if (sides === "lower" && !(confidence > 0.5))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence, sides });
  if (shape?.kind === "fixed" && !(shape.shape > 0 && Number.isFinite(shape.shape)))
    throw new AnalysisError("bad-setting", { setting: "shape", value: String(shape.shape) });
  if (statedAge !== null && !(statedAge > 0))
    throw new AnalysisError("bad-setting", { setting: "statedAge", value: statedAge });
  const { plannedCost, failureCost, foundCost, allowedChance, runHours, wellC } = decision;
  if (!(allowedChance > 0 && allowedChance < 1))
    throw new AnalysisError("bad-setting", { setting: "allowedChance", value: allowedChance });
  for (const [setting, value, least] of [
    ["plannedCost", plannedCost, Number.MIN_VALUE],
    ["failureCost", failureCost, 0],
    ["foundCost", foundCost, 0],
    ["runHours", runHours, Number.MIN_VALUE],
    ["wellC", wellC, COLDEST],
  ] as const) {
    if (value !== null && !(value >= least && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value) });
  }
}

/** The part of a study that decides what a life is. */
export function livesDefinition({
  cutoff,
  thresholds,
  refittedMeansSound,
  hoursKind,
}: StudyDefinition): LivesDefinition {
  return { cutoff, thresholds, refittedMeansSound, hoursKind };
}
