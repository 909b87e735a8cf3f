import {
  type DecisionSettings,
  defaultStudy,
  type PracticeId,
  type Scope,
  type StudyDefinition,
  usualDecision,
} from "../../analysis/index.ts";
import type { DecisionQuery, ScopeQuery, SettingsQuery } from "../contracts/questions.ts";

/** The scope that query parameters name; what is left out means "all". */
export function scopeOf(query: ScopeQuery): Scope {
  return {
    toolType: query.type ?? null,
    sizeIn: query.size ?? null,
    item: query.item ?? null,
    mode: query.mode ?? null,
    serial: query.serial ?? null,
    customer: query.customer ?? null,
    from: query.from ?? null,
    to: query.to ?? null,
  };
}

/** The study that query parameters ask for: the usual settings, with those that were given. */
export function definitionOf(
  question: StudyDefinition["question"],
  scope: Scope,
  { confidence, age, missing, audit, law = "weibull", bounds, sides, shape }: SettingsQuery,
): StudyDefinition {
  const usual = defaultStudy(question, scope);
  return {
    ...usual,
    confidence: confidence ?? usual.confidence,
    statedAge: age ?? usual.statedAge,
    missingHours: missing ?? usual.missingHours,
    ...(audit === "left out" ? { openAudit: audit } : {}),
    ...(law === "weibull" ? {} : { law }),
    ...(bounds === undefined ? {} : { bounds }),
    ...(sides === "lower" ? { sides } : {}),
    ...(shape === undefined ? {} : { shape }),
  };
}

/** The costs and the allowed risk that query parameters ask a decision with. */
export function decisionOf({ planned, failure, found, risk, run, well }: DecisionQuery): DecisionSettings {
  return {
    plannedCost: planned ?? usualDecision.plannedCost,
    failureCost: failure ?? usualDecision.failureCost,
    foundCost: found ?? usualDecision.foundCost,
    allowedChance: risk ?? usualDecision.allowedChance,
    runHours: run ?? usualDecision.runHours,
    wellC: well ?? usualDecision.wellC,
  };
}

const USUAL_POWER = 0.8;

interface FocusQuery {
  readonly practice?: PracticeId | undefined;
  readonly level?: string | undefined;
  readonly of?: string | undefined;
  readonly by?: string | undefined;
  readonly find?: number | undefined;
  readonly chance?: number | undefined;
  readonly assume?: number | undefined;
}

/** Build practice reads no life: whatever the address says of stated age, law, bounds and shape changes nothing. */
export function buildPracticeDefinition(scope: Scope, query: SettingsQuery & FocusQuery): StudyDefinition {
  const { practice, level = null, of, by, find, chance, assume, confidence, missing, audit } = query;
  const study: StudyDefinition = {
    ...definitionOf("build practice", scope, { confidence, missing, audit }),
    ...(find === undefined
      ? {}
      : { settle: { multiplier: find, power: chance ?? USUAL_POWER, shape: assume ?? null } }),
  };
  if (practice === undefined || of === undefined || by === undefined) return study;
  return { ...study, focus: { practice, level, item: of, mode: by } };
}
