import { AnalysisError } from "../errors.ts";
import { highOf, lowOf } from "../lives/age.ts";
import { keyOf } from "../records/descriptor.ts";
import type { ItemLifeResult } from "../study/types.ts";
import type { ScopedData } from "./scopedData.ts";
import { resultHash } from "./statementLife.ts";
import type { Incident, StatementMode } from "./types.ts";

/**
 * One run that went wrong: what was found, what is known of why, and how rare it is among all runs of the scope.
 *
 * @param lives  Item life of the modes found, each asked at the age of this failure.
 * Errors        "run-not-found" where the run is not among the counted runs of the scope.
 */
export function incidentOf(
  scoped: ScopedData,
  name: string,
  modes: readonly StatementMode[],
  lives: readonly ItemLifeResult[],
): Incident {
  const { data, runs } = scoped;
  const found = runs.find(({ run }) => run.run === name);
  if (!found) throw new AnalysisError("run-not-found", { run: name });
  const { run, lookedAt, failedLives } = found;
  const tool = (data.records.tools ?? []).find(({ serial }) => serial === run.serial);
  const rows = (data.records.findings ?? []).filter(
    ({ teardown, condition }) => teardown === lookedAt?.teardown && condition !== "sound",
  );
  return {
    run: run.run,
    serial: run.serial,
    toolType: tool?.tool_type ?? null,
    sizeIn: tool?.size_in ?? null,
    on: found.on,
    hours: run.hours ?? null,
    pulledBecause: run.pulled_because,
    well: run.well ?? null,
    tornDownOn: lookedAt?.done_on ?? null,
    findings: rows.map((finding) => {
      const { item, condition } = finding;
      const life = failedLives.find((one) => one.item === item && one.mode === condition);
      const mode = modes.find((one) => one.item === item && one.mode === condition && one.toolType === life?.toolType);
      const answer = lives.find((one) => one.item === item && one.mode === condition);
      const end = life && (life.upper ?? life.lower);
      const age = end === undefined ? null : (lowOf(end) + highOf(end)) / 2;
      const known = answer !== undefined && age !== null && answer.readings.statedAge <= answer.longestAge;
      return {
        item,
        condition,
        severity: finding.severity ?? null,
        cause: finding.cause ?? null,
        breakoutTorque_Nm: finding.breakout_torque_Nm ?? null,
        age,
        rate: mode?.rate ?? null,
        failures: mode?.failures ?? 0,
        hours: mode?.hours ?? 0,
        survival: known ? answer.readings.reliability : null,
        longestAge: answer?.longestAge ?? null,
        result: answer ? resultHash(answer) : null,
      };
    }),
  };
}

/** The ages at which the lives behind an incident are asked about: one a mode found failed after that run. */
export function incidentAges(
  scoped: ScopedData,
  name: string,
): readonly { toolType: string; item: string; mode: string; age: number }[] {
  const found = scoped.runs.find(({ run, key }) => run.run === name && key === keyOf("runs", run));
  return (found?.failedLives ?? []).flatMap(({ toolType, item, mode, upper, lower }) => {
    const end = upper ?? lower;
    const age = (lowOf(end) + highOf(end)) / 2;
    return age > 0 ? [{ toolType, item, mode, age }] : [];
  });
}
