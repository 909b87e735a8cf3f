import type { StudyDefinition } from "../../analysis/index.ts";
import type { Place } from "./place.ts";

/** The study that a place asks for. Whatever the address does not hold is the product's usual setting. */
export function studyOf(place: Place, question: StudyDefinition["question"]): StudyDefinition {
  return {
    question,
    scope: question === "tool history" ? { ...place.scope, serial: place.serial } : place.scope,
    cutoff: null,
    thresholds: {},
    refittedMeansSound: false,
    hoursKind: null,
    missingHours: place.settings.missingHours,
    confidence: place.settings.confidence,
    statedAge: place.settings.statedAge,
    seed: 1,
  };
}
