import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import { exactRate } from "../estimation/exactRate.ts";
import type { Records } from "../records/descriptor.ts";
import { contentHash } from "../study/contentHash.ts";
import { countedRuns } from "../study/countedRuns.ts";
import { sumExposure } from "../study/exposure.ts";
import { recordsOfStudy } from "../study/recordsOfStudy.ts";
import { provenance, type StudyContext, shopData } from "../study/shopData.ts";
import type { ItemLifeResult, StudyDefinition, StudyResult, WhatFailsResult } from "../study/types.ts";
import { beforeAfter } from "./beforeAfter.ts";
import { causesOf } from "./causes.ts";
import { conditionsOf } from "./conditions.ts";
import { statementHash, studyOf } from "./definition.ts";
import { exclusionsOf } from "./exclusions.ts";
import { failureFreeRuns } from "./failureFreeRuns.ts";
import { followedSystems } from "./followedSystems.ts";
import { guardEvidence } from "./guardEvidence.ts";
import { incidentOf } from "./incidentOf.ts";
import { maskStatement } from "./maskStatement.ts";
import { meanTimeGate } from "./meanTimeGate.ts";
import type { StatementQuestion } from "./planStatement.ts";
import { type ScopedData, scopedData } from "./scopedData.ts";
import { resultHash, statementLife } from "./statementLife.ts";
import { trendOf } from "./trendOf.ts";
import type { Aliases, StatementDefinition, StatementMode, StatementResult } from "./types.ts";
import { usualRunHours } from "./usualRunHours.ts";

/** The modes found most often are drawn; the others stand in the tables. */
const PICTURED = 3;

const byFailures = (a: ItemLifeResult, b: ItemLifeResult): number => b.counts.failures - a.counts.failures;

export interface StatementParts {
  readonly definition: StatementDefinition;
  readonly records: Records;
  readonly context: StudyContext;
  readonly answers: readonly { readonly role: StatementQuestion["role"]; readonly result: StudyResult }[];
  readonly aliases: Aliases;
}

/**
 * Everything a statement says, from the answers to its questions and the same records. Pure: the same parts give the same
 * content hash. Errors  "run-not-found"; "bad-setting" where the answer to "what fails" is missing.
 */
export function composeStatement({ definition, records, context, answers, aliases }: StatementParts): StatementResult {
  const rates = answers.find(({ role }) => role === "rates")?.result;
  if (rates?.kind !== "what fails") throw new AnalysisError("bad-setting", { setting: "answers", value: "no rates" });
  const ofRole = (role: StatementQuestion["role"]): readonly StudyResult[] =>
    answers.filter((one) => one.role === role).map(({ result }) => result);
  const livesOf = (role: "life" | "incident"): readonly ItemLifeResult[] =>
    ofRole(role).filter((result): result is ItemLifeResult => result.kind === "item life");
  const ratesOf = (role: "customer's definition" | "previous definition"): WhatFailsResult | null =>
    ofRole(role).find((result): result is WhatFailsResult => result.kind === "what fails") ?? null;

  const study = studyOf(definition, "what fails");
  const data = shopData(recordsOfStudy(study, records, context.answers ?? []), study);
  const scoped = scopedData(data, study);
  const { runs } = scoped;
  const lives = livesOf("life");
  const modes = modesOf(scoped, rates, lives);
  const tools = new Map((data.records.tools ?? []).map((tool) => [tool.serial, tool]));
  const distinct = <T>(values: readonly (T | null | undefined)[]): T[] => [
    ...new Set(values.flatMap((one) => (one == null ? [] : [one]))),
  ];
  const content: Omit<StatementResult, "contentHash"> = {
    kind: "statement",
    definition,
    provenance: { ...provenance(data, study, context), studyHash: statementHash(definition) },
    sample: context.sample,
    failureDefinition: rates.failureDefinition,
    population: {
      tools: rates.tools,
      runs: runs.length,
      hours: runs.reduce((sum, { hours }) => sum + hours, 0),
      from: definition.scope.from ?? runs[0]?.on ?? null,
      to: [definition.scope.to ?? data.derived.cutoff, data.derived.cutoff].sort()[0] ?? null,
      toolTypes: distinct(runs.map(({ run }) => tools.get(run.serial)?.tool_type)).sort(),
      sizesIn: distinct(runs.map(({ run }) => tools.get(run.serial)?.size_in)).sort((a, b) => a - b),
      customers: distinct(runs.map(({ run }) => run.customer)).length,
      wells: distinct(runs.map(({ run }) => run.well)).length,
      hoursKinds: distinct(runs.map(({ run }) => run.hours_kind)).sort(),
    },
    conditions: conditionsOf(runs),
    runHours: usualRunHours(definition, records),
    toolFailures: rates.toolFailures,
    toolFailureRate: rates.toolFailureRate,
    failureFree: failureFreeRuns(
      runs.map(({ run, hours, failed }) => ({ serial: run.serial, hours, failed })),
      definition.confidence,
    ),
    modes,
    exclusions: exclusionsOf(scoped),
    trend: trendOf(runs),
    periods: rates.periods,
    customerView: customerView(definition, rates, ratesOf("customer's definition"), (question) =>
      countedRuns(shopData(recordsOfStudy(question, records, context.answers ?? []), question), question).reduce(
        (sum, { hours }) => sum + hours,
        0,
      ),
    ),
    beforeAfter: definition.change && beforeAfter(scoped, definition.change),
    incident:
      definition.incidentRun === null ? null : incidentOf(scoped, definition.incidentRun, modes, livesOf("incident")),
    actions: definition.actions,
    evidence: guardEvidence(definition, scoped, rates, ratesOf("previous definition")),
    pictures: { whatFails: rates, lives: [...lives].sort(byFailures).slice(0, PICTURED) },
  };
  const masked = maskStatement(content, aliases, data.records);
  return { ...masked, contentHash: contentHash(masked) };
}

function modesOf(
  scoped: ScopedData,
  rates: WhatFailsResult,
  lives: readonly ItemLifeResult[],
): readonly StatementMode[] {
  const { data, study, groups } = scoped;
  const causes = causesOf(data, study.scope);
  return rates.modes.map(({ toolType, item, mode, announces, failures, hours, rate, broughtBack }): StatementMode => {
    const exposures =
      groups.find((one) => one.toolType === toolType && one.item === item && one.mode === mode)?.exposures ?? [];
    const { failed } = sumExposure(exposures, study.scope);
    const answer = lives.find(
      ({ scope, item: ofItem, mode: ofMode }) => scope.toolType === toolType && ofItem === item && ofMode === mode,
    );
    const gate = meanTimeGate(followedSystems(exposures, study.scope), {
      failures,
      hours,
      confidence: study.confidence,
    });
    return {
      toolType,
      item,
      mode,
      announces,
      failures,
      hours,
      broughtBack,
      rate,
      causes: causes(item, mode, failed),
      life: answer ? statementLife(answer) : null,
      meanTime: { ...gate, survivalAtMeanTime: survivalAt(answer, gate.meanTime?.value ?? null) },
    };
  });
}

function survivalAt(answer: ItemLifeResult | undefined, age: number | null): number | null {
  const [shape, scale] = [answer?.fit?.shape.value ?? null, answer?.fit?.scale.value ?? null];
  return shape === null || scale === null || age === null ? null : weibull({ shape, scale }).survival(age);
}

/** The customer's definition of a failure, and their kind of hours, beside the shop's. */
function customerView(
  { customerDefinition, confidence }: StatementDefinition,
  shop: WhatFailsResult,
  customer: WhatFailsResult | null,
  hoursRun: (question: StudyDefinition) => number,
): StatementResult["customerView"] {
  if (customerDefinition === null || customer === null) return null;
  const total = ({ modes }: WhatFailsResult): number => modes.reduce((sum, { failures }) => sum + failures, 0);
  const hours = hoursRun(customer.definition);
  return {
    ...customerDefinition,
    runs: customer.runs,
    hours,
    failures: total(customer),
    rate: exactRate({ failures: total(customer), hours, confidence }),
    shopFailures: total(shop),
    shopRate: exactRate({ failures: total(shop), hours: hoursRun(shop.definition), confidence }),
    modes: shop.modes.map(({ item, mode, toolType, failures }) => ({
      toolType,
      item,
      mode,
      shop: failures,
      customer:
        customer.modes.find((one) => one.item === item && one.mode === mode && one.toolType === toolType)?.failures ??
        0,
    })),
    result: resultHash(customer),
  };
}
