import { AnalysisError } from "../errors.ts";
import { dayOf } from "../lives/calendar.ts";
import { contentHash } from "../study/contentHash.ts";
import { defaultStudy, wholeScope } from "../study/definition.ts";
import type { Scope, StudyDefinition } from "../study/types.ts";
import type { StatementDefinition } from "./types.ts";

/** A periodic statement with the usual settings. */
export function defaultStatement(scope: Partial<Scope> = {}): StatementDefinition {
  return {
    kind: "periodic",
    scope: { ...wholeScope, ...scope },
    audience: "engineer",
    units: "metric",
    runHours: null,
    cutoff: null,
    thresholds: {},
    hoursKind: null,
    customerDefinition: null,
    confidence: 0.9,
    asked: [],
    change: null,
    incidentRun: null,
    actions: [],
    masked: true,
  };
}

export const statementHash = (definition: StatementDefinition): string => contentHash(definition);

/** Errors  "bad-setting", "bad-date" for a definition that cannot be answered. */
export function checkStatement(definition: StatementDefinition): void {
  const { kind, confidence, runHours, change, incidentRun, scope, cutoff } = definition;
  const refuse = (setting: string, value: string, allowed: string): never => {
    throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  if (!(confidence >= 0.5 && confidence < 1)) refuse("confidence", String(confidence), "at least 0.5 and below 1");
  if (runHours !== null && !(runHours > 0 && Number.isFinite(runHours)))
    refuse("run hours", String(runHours), "a number above 0");
  if (kind === "before and after" && change === null)
    refuse("change", "left out", "what was changed, and on which day");
  if (kind === "incident" && incidentRun === null) refuse("run of the incident", "left out", "the number of a run");
  for (const date of [scope.from, scope.to, cutoff, change?.on, change?.countedFrom]) if (date != null) dayOf(date);
  if (change?.countedFrom != null && change.countedFrom < change.on)
    refuse("first day counted as after", change.countedFrom, `a day not before the change, ${change.on}`);
}

export function studyOf(definition: StatementDefinition, question: StudyDefinition["question"]): StudyDefinition {
  const { scope, cutoff, thresholds, hoursKind, confidence } = definition;
  return { ...defaultStudy(question, scope), cutoff, thresholds, hoursKind, confidence };
}
