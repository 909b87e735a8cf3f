/** What the server says about statements, in types that analysis owns so that server and web meet only here. */

import type { StatementDefinition } from "../../statement/types.ts";
import type { StatementDocument } from "./document.ts";

/** How far a preview is: each step is a question of its own. */
export interface StatementProgress {
  readonly done: number;
  readonly of: number;
  /** What is being asked, in words. */
  readonly what: string;
}

/** POST /api/statements/preview; the last event "preview" of the same as text/event-stream, after events "progress". */
export interface StatementPreview {
  /** Names it: GET /api/statements/preview/ID.html and the other files, until it is forgotten. */
  readonly id: string;
  readonly definition: StatementDefinition;
  readonly contentHash: string;
  readonly document: StatementDocument;
}

interface Signed {
  readonly who: string;
  readonly when: string;
}

/** One stored version of a statement. */
export interface StatementEntry {
  readonly statement: number;
  readonly version: number;
  readonly state: "draft" | "approved" | "issued";
  readonly title: string;
  readonly subtitle: string;
  readonly contentHash: string;
  readonly drafted: Signed;
  readonly approved: Signed | null;
  readonly issued: Signed | null;
  /** As it was asked for, to be made again. */
  readonly definition: StatementDefinition;
}

/** GET /api/statements: the latest first. */
export interface StatementsReply {
  readonly statements: readonly StatementEntry[];
  /** What a statement may be about beside what the scope bar offers. */
  readonly wells: readonly string[];
  /** Runs that the tool ended, the latest first, for a single incident. */
  readonly incidents: readonly {
    readonly run: string;
    readonly serial: string;
    readonly on: string;
    readonly customer: string | null;
  }[];
}

/** Body of POST /api/statements: what is stored as a draft. */
export interface StatementDraftBody {
  readonly definition: StatementDefinition;
  /** Number of the statement it is a new version of. */
  readonly statement?: number | null;
}
