/** Messages between the main process and the worker. Plain data: errors travel as codes with facts. */
import type { AnalysisErrorCode, Life, LifeKind, Records, StudyDefinition, StudyResult } from "../../analysis/index.ts";

/** What a question is asked of: the records under their hash, and what is printed with every answer. */
export interface StudyData {
  readonly dataHash: string;
  readonly records: Records;
  readonly statements: readonly string[];
  readonly sample: boolean;
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

export type Question =
  | { readonly kind: "study"; readonly definition: StudyDefinition }
  | { readonly kind: "lives"; readonly definition: StudyDefinition; readonly page: LivesPageRequest };

/** `records` is null where the worker should have them already. */
export interface Task {
  readonly question: Question;
  readonly data: Omit<StudyData, "records"> & { readonly records: Records | null };
}

export type Answer =
  | { readonly kind: "study"; readonly result: StudyResult }
  | { readonly kind: "lives"; readonly page: LivesPage }
  /** The worker is new, or was restarted, and does not have these records: send them. */
  | { readonly kind: "records wanted" }
  | {
      readonly kind: "refused";
      readonly code: AnalysisErrorCode;
      readonly facts: Readonly<Record<string, string | number | null>>;
    };
