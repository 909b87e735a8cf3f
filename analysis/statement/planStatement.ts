import type { Records } from "../records/descriptor.ts";
import { recordsOfStudy } from "../study/recordsOfStudy.ts";
import { runStudy } from "../study/runStudy.ts";
import { type StudyContext, shopData } from "../study/shopData.ts";
import type { StudyDefinition } from "../study/types.ts";
import { checkStatement, studyOf } from "./definition.ts";
import { incidentAges } from "./incidentOf.ts";
import { scopedData } from "./scopedData.ts";
import type { StatementDefinition } from "./types.ts";
import { usualRunHours } from "./usualRunHours.ts";

/** A question whose answer a statement needs, and what for. */
export interface StatementQuestion {
  readonly role: "rates" | "customer's definition" | "previous definition" | "life" | "incident";
  readonly study: StudyDefinition;
}

/** The part of an earlier statement that decides what counts. */
export type PreviousDefinition = Pick<StatementDefinition, "thresholds" | "hoursKind">;

/**
 * The questions behind a statement: what fails, by each definition; how long each item lasts, for every mode of which a
 * failure was found; and for an incident, at the ages at which its items failed.
 * Errors  "bad-setting", "bad-date", "tool-not-found".
 */
export function planStatement(
  definition: StatementDefinition,
  records: Records,
  context: StudyContext,
  previous: PreviousDefinition | null,
): readonly StatementQuestion[] {
  checkStatement(definition);
  const rates = studyOf(definition, "what fails");
  const under = ({ thresholds, hoursKind }: PreviousDefinition): StudyDefinition => ({
    ...rates,
    thresholds: { ...rates.thresholds, ...thresholds },
    hoursKind: hoursKind ?? rates.hoursKind,
  });
  const answer = runStudy(rates, records, context);
  const runHours = usualRunHours(definition, records);
  const lifeAt = (toolType: string, item: string, mode: string, age: number): StudyDefinition => ({
    ...studyOf(definition, "item life"),
    // Every life restored before the end of the period: within a short one no long life could be seen.
    scope: { ...definition.scope, from: null, toolType, item, mode },
    statedAge: age,
  });
  const modes = answer.kind === "what fails" ? answer.modes.filter(({ failures }) => failures > 0) : [];
  const { customerDefinition, incidentRun } = definition;
  const changed = previous !== null && !sameDefinition(previous, definition);
  return [
    { role: "rates", study: rates },
    ...(customerDefinition === null
      ? []
      : [{ role: "customer's definition" as const, study: under(customerDefinition) }]),
    ...(changed ? [{ role: "previous definition" as const, study: { ...rates, ...previous } }] : []),
    ...modes.map(({ toolType, item, mode }) => ({
      role: "life" as const,
      study: lifeAt(toolType, item, mode, runHours),
    })),
    ...(incidentRun === null
      ? []
      : incidentAges(
          scopedData(shopData(recordsOfStudy(rates, records, context.answers ?? []), rates), rates),
          incidentRun,
        ).map(({ toolType, item, mode, age }) => ({
          role: "incident" as const,
          study: lifeAt(toolType, item, mode, age),
        }))),
  ];
}

function sameDefinition(a: PreviousDefinition, b: PreviousDefinition): boolean {
  const entries = (of: PreviousDefinition) => Object.entries(of.thresholds).sort(([x], [y]) => (x < y ? -1 : 1));
  return a.hoursKind === b.hoursKind && JSON.stringify(entries(a)) === JSON.stringify(entries(b));
}
