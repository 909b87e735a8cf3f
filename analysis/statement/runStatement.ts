import type { Records } from "../records/descriptor.ts";
import { runStudy } from "../study/runStudy.ts";
import type { StudyContext } from "../study/shopData.ts";
import { composeStatement } from "./composeStatement.ts";
import { type PreviousDefinition, planStatement } from "./planStatement.ts";
import type { Aliases, StatementDefinition, StatementResult } from "./types.ts";

/** A statement at one go: its questions, their answers, and what may be said. */
export function runStatement(
  definition: StatementDefinition,
  records: Records,
  context: StudyContext,
  { aliases = {}, previous = null }: { readonly aliases?: Aliases; readonly previous?: PreviousDefinition | null } = {},
): StatementResult {
  const answers = planStatement(definition, records, context, previous).map(({ role, study }) => ({
    role,
    result: runStudy(study, records, context),
  }));
  return composeStatement({ definition, records, context, answers, aliases });
}
