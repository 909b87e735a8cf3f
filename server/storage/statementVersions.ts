import type { StatementDefinition, StatementResult } from "../../analysis/index.ts";
import type { JournalEntry, JournaledStatement } from "./journalEntry.ts";
import { StorageError } from "./storageError.ts";

/** Who did something, and when. */
export interface Signed {
  readonly who: string;
  readonly when: string;
}

/** One version of a statement, with how far it has come. */
export interface StatementVersion {
  readonly statement: number;
  readonly of: number;
  readonly contentHash: string;
  readonly drafted: Signed;
  readonly approved: Signed | null;
  readonly issued: Signed | null;
  /** As it was asked for. */
  readonly definition: StatementDefinition;
  readonly result: StatementResult;
}

export interface StatementDraft {
  /** Number of the statement it is a new version of; null begins a new one. */
  readonly statement: number | null;
  readonly definition: StatementDefinition;
  readonly result: StatementResult;
}

type Place = Pick<StatementVersion, "statement" | "of">;

/** Every version of every statement that a journal holds, in the order drafted. */
export function versionsOf(entries: readonly JournalEntry[]): readonly StatementVersion[] {
  const versions = new Map<string, StatementVersion>();
  for (const { body } of entries) {
    if (body.kind !== "statement") continue;
    const key = keyOf(body);
    const known = versions.get(key);
    if (body.step === "drafted") versions.set(key, draftedVersion(body));
    else if (known) versions.set(key, { ...known, [body.step]: { who: body.who, when: body.when } });
  }
  return [...versions.values()];
}

/** The version that an entry drafts. Errors  "journal-damaged" where it holds no draft. */
export function draftedVersion({
  statement,
  of,
  who,
  when,
  contentHash,
  drafted,
}: JournaledStatement): StatementVersion {
  if (drafted === undefined)
    throw new StorageError("journal-damaged", {
      file: "log.jsonl",
      sequence: statement,
      line: of,
      why: "a statement was drafted without its content",
    });
  return { statement, of, contentHash, drafted: { who, when }, approved: null, issued: null, ...drafted };
}

/** Number and version of the next draft. Errors  "no-such-statement" */
export function nextVersion(versions: readonly StatementVersion[], statement: number | null): Place {
  if (statement === null) return { statement: 1 + Math.max(0, ...versions.map((one) => one.statement)), of: 1 };
  const own = versions.filter((one) => one.statement === statement);
  if (own.length === 0) throw new StorageError("no-such-statement", { statement, version: null });
  return { statement, of: own.length + 1 };
}

/**
 * Draft, approved, issued: one step after the other, only on the newest version.
 * Errors  "no-such-statement"; "statement-step" where the step is not the next one
 */
export function nextStep(
  versions: readonly StatementVersion[],
  step: "approved" | "issued",
  place: Place,
  signed: Signed,
): { readonly version: StatementVersion; readonly body: JournaledStatement } {
  const own = versions.filter((one) => one.statement === place.statement);
  const version = own.find((one) => one.of === place.of);
  if (!version) throw new StorageError("no-such-statement", { statement: place.statement, version: place.of });
  const stands = version.issued ? "issued" : version.approved ? "approved" : "drafted";
  const refuse = (why: string): never => {
    throw new StorageError("statement-step", { ...place, step, stands, why });
  };
  if (own.at(-1) !== version) refuse("there is a newer version");
  if (step === "approved" && stands !== "drafted") refuse(`it is ${stands} already`);
  if (step === "issued" && stands !== "approved")
    refuse(stands === "issued" ? "it is issued already" : "it is not approved");
  const { statement, of, contentHash } = version;
  return {
    version: { ...version, [step]: signed },
    body: { kind: "statement", version: 1, step, statement, of, contentHash, ...signed },
  };
}

const keyOf = ({ statement, of }: Place): string => `${statement} ${of}`;
