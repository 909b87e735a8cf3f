import { AnalysisError } from "../errors.ts";
import type { LivesDefinition } from "../lives/types.ts";
import { contentHash } from "./contentHash.ts";
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

/** Errors  "bad-setting" for a confidence outside (0, 1) or a stated age that is not positive. */
export function checkStudy({ confidence, statedAge }: StudyDefinition): void {
  if (!(confidence > 0 && confidence < 1))
    throw new AnalysisError("bad-setting", { setting: "confidence", value: confidence });
  if (statedAge !== null && !(statedAge > 0))
    throw new AnalysisError("bad-setting", { setting: "statedAge", value: statedAge });
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
