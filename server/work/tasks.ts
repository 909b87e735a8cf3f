/** Messages between the main process and the worker. Plain data: errors travel as codes with facts. */

import type { MessagePort } from "node:worker_threads";
import type {
  AnalysisErrorCode,
  AnswersEffect,
  Answer as AuditAnswer,
  AuditGroupSummary,
  AuditReply,
  AuditRowsReply,
  Life,
  LifeKind,
  LifePart,
  LifePartQuestion,
  PreviousDefinition,
  Records,
  Scope,
  ScopeChoices,
  StatementDefinition,
  StatementParts,
  StatementQuestion,
  StatementResult,
  StudyDefinition,
  StudyResult,
} from "../../analysis/index.ts";

import type { StatementIssue } from "../statement/issue.ts";

/** What a question is asked of: the records under their hash, and what is printed with every answer. */
export interface StudyData {
  readonly dataHash: string;
  /** With every answer applied that still stands. */
  readonly records: Records;
  /** All but those that a later answer of the same cell stands for. */
  readonly answers: readonly AuditAnswer[];
  readonly statements: readonly string[];
  readonly sample: boolean;
  /** Words in cells where a number belongs, by `cellName`. */
  readonly cellTexts: Readonly<Record<string, string>>;
}

/** Which of a study's lives to send. `ids` asks for these, in this order; otherwise a page in the order derived. */
export interface LivesPageRequest {
  readonly ids: readonly string[] | null;
  readonly kind: LifeKind | null;
  readonly offset: number;
  readonly limit: number;
}

export interface LivesPage {
  readonly total: number;
  readonly lives: readonly Life[];
}

/** Which of the open doubts to send. Null for the column means "any"; "none" is a doubt about a row as a whole. */
export interface AuditPageRequest {
  readonly rule: string | null;
  readonly table: string | null;
  readonly column: string | null;
  /** Only doubts that lives of this scope rest on; null: all doubts, those that no life rests on too. */
  readonly scope: Scope | null;
  readonly offset: number;
  readonly limit: number;
}

export interface AuditPage {
  readonly total: number;
  readonly lives: AuditReply["lives"];
  readonly groups: readonly AuditGroupSummary[];
  readonly rows: Pick<AuditRowsReply, "total" | "rows">;
}

/** A file of a statement to be written, by its name: "statement.pdf", "rates.svg", "modes.csv". */
export interface StatementFileRequest {
  readonly statement: StatementResult;
  readonly issue: StatementIssue;
  readonly name: string;
}

/** A statement's questions, answered. */
export type StatementAnswers = Pick<StatementParts, "definition" | "answers" | "aliases">;

export type Question =
  /** `derivable`: nothing is left open that would keep lives from being derived. */
  | { readonly kind: "audit"; readonly page: AuditPageRequest; readonly derivable: boolean }
  /** What answers would do: `after` is the records with them applied, `standing` the answers that count then. */
  | {
      readonly kind: "answers preview";
      readonly after: Records;
      readonly standing: readonly AuditAnswer[];
      readonly given: readonly AuditAnswer[];
      readonly derivable: boolean;
    }
  | { readonly kind: "choices" }
  | { readonly kind: "study"; readonly definition: StudyDefinition }
  | {
      readonly kind: "statement plan";
      readonly definition: StatementDefinition;
      readonly previous: PreviousDefinition | null;
    }
  | { readonly kind: "statement"; readonly parts: StatementAnswers }
  | { readonly kind: "part"; readonly definition: StudyDefinition; readonly part: LifePartQuestion }
  | { readonly kind: "lives"; readonly definition: StudyDefinition; readonly page: LivesPageRequest };

/** `records` is null where the worker should have them already. */
export interface Task {
  readonly question: Question;
  readonly data: Omit<StudyData, "records"> & { readonly records: Records | null };
  /** Where a study tells how far it is; null where nobody listens. */
  readonly progress: MessagePort | null;
}

export type Answer =
  | { readonly kind: "study"; readonly result: StudyResult }
  | { readonly kind: "part"; readonly part: LifePart }
  | { readonly kind: "choices"; readonly choices: ScopeChoices }
  | { readonly kind: "lives"; readonly page: LivesPage }
  | { readonly kind: "audit"; readonly page: AuditPage }
  | { readonly kind: "statement plan"; readonly questions: readonly StatementQuestion[] }
  | { readonly kind: "statement"; readonly result: StatementResult }
  | { readonly kind: "answers preview"; readonly effect: AnswersEffect }
  /** The worker is new, or was restarted, and does not have these records: send them. */
  | { readonly kind: "records wanted" }
  | {
      readonly kind: "refused";
      readonly code: AnalysisErrorCode;
      readonly facts: Readonly<Record<string, string | number | null>>;
    };
