import type { GuardFinding } from "../../statement/guard/types.ts";
import { resultHash } from "../../statement/statementLife.ts";
import type { StatementResult } from "../../statement/types.ts";

/** What every section is written from. */
export interface Sources {
  readonly statement: StatementResult;
  readonly guard: readonly GuardFinding[];
  /** Results by name: of the rates, and of the statement's own counts. */
  readonly rates: string;
  readonly own: string;
  /** Whether a mode must be named with its tool type. */
  readonly manyTypes: boolean;
}

export function sourcesOf(statement: StatementResult, guard: readonly GuardFinding[]): Sources {
  return {
    statement,
    guard,
    rates: resultHash(statement.pictures.whatFails),
    own: resultHash(statement),
    manyTypes: new Set(statement.modes.map(({ toolType }) => toolType)).size > 1,
  };
}
