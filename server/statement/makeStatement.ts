import {
  type Aliases,
  type PreviousDefinition,
  type StatementDefinition,
  type StatementProgress,
  type StatementResult,
  sayScope,
} from "../../analysis/index.ts";
import type { StudyPool } from "../work/studyPool.ts";
import type { StudyData } from "../work/tasks.ts";

export interface MakeStatementOptions {
  readonly pool: StudyPool;
  readonly data: StudyData;
  readonly aliases: Aliases;
  readonly previous: PreviousDefinition | null;
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: StatementProgress) => void;
}

/**
 * Makes a statement in the worker, question by question: those asked before are answered from what is kept. Errors are those
 * of its questions.
 */
export async function makeStatement(
  definition: StatementDefinition,
  { pool, data, aliases, previous, signal, onProgress }: MakeStatementOptions,
): Promise<StatementResult> {
  onProgress?.({ done: 0, of: 1, what: "Which questions it rests on" });
  const questions = await pool.planStatement(definition, previous, data, signal);
  const of = questions.length + 1;
  const answers = [];
  for (const [done, { role, study }] of questions.entries()) {
    onProgress?.({ done, of, what: sayScope({ ...study.scope, customer: null, from: null, to: null }) });
    answers.push({ role, result: await pool.study(study, data, signal) });
  }
  onProgress?.({ done: questions.length, of, what: "Putting it together" });
  return pool.statement({ definition, answers, aliases }, data, signal);
}
