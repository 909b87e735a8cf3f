import {
  type Aliases,
  type PreviousDefinition,
  type StatementDefinition,
  type StatementEntry,
  type StatementResult,
  sayChanges,
  statementDocument,
  withDecimalMark,
} from "../../analysis/index.ts";
import type { StatementVersion } from "../storage/statementVersions.ts";
import type { Store } from "../storage/store.ts";
import { aliasesOf } from "./aliases.ts";
import type { StatementIssue } from "./issue.ts";

/** The stored statements, as they are listed, compared and handed over. */
export interface StatementBook {
  /** The last statement of this kind that the customer was given; where none was issued, the newest version. */
  last(definition: StatementDefinition, before?: StatementVersion): Promise<StatementVersion | null>;
  find(statement: number, of: number): Promise<StatementVersion | null>;
  all(): Promise<readonly StatementVersion[]>;
  /** What names are called in every statement of this store. */
  aliases(): Promise<Aliases>;
}

export function statementBook(store: Store): StatementBook {
  return {
    all: () => store.statementVersions(),
    async find(statement, of) {
      return (await store.statementVersions()).find((one) => one.statement === statement && one.of === of) ?? null;
    },
    async last({ kind, scope }, before) {
      const versions = await store.statementVersions();
      const earlier =
        before === undefined
          ? versions
          : versions.slice(
              0,
              versions.findIndex((one) => sameVersion(one, before)),
            );
      const alike = earlier.filter(
        ({ definition }) => definition.kind === kind && definition.scope.customer === scope.customer,
      );
      return alike.findLast(({ issued }) => issued !== null) ?? alike.at(-1) ?? null;
    },
    async aliases() {
      // The sheets' own rows: a correction must not give a name another alias.
      const [{ records, raw }, batches] = await Promise.all([store.loadShop(), store.batches()]);
      const files = [...new Set(batches.flatMap((batch) => batch.files.map(({ file }) => file)))];
      const written = aliasesOf(store.secret, raw, files);
      const corrected = aliasesOf(store.secret, records, files);
      return Object.fromEntries(
        Object.entries(corrected).map(([kind, names]) => [kind, { ...names, ...written[kind as keyof Aliases] }]),
      );
    },
  };
}

const sameVersion = (a: StatementVersion, b: StatementVersion): boolean => a.statement === b.statement && a.of === b.of;

export const stateOf = ({ approved, issued }: StatementVersion): StatementEntry["state"] =>
  issued !== null ? "issued" : approved !== null ? "approved" : "draft";

export function entryOf(version: StatementVersion): StatementEntry {
  const { title, subtitle } = statementDocument(version.result);
  const { statement, of, contentHash, drafted, approved, issued, definition } = version;
  return {
    statement,
    version: of,
    state: stateOf(version),
    title,
    subtitle,
    contentHash,
    drafted,
    approved,
    issued,
    definition,
  };
}

/** What is printed on a stored version: who did what when, and what changed since the statement before it. */
export function issueOf(version: StatementVersion, before: StatementVersion | null): StatementIssue {
  const { statement, of, drafted, approved, issued, result } = version;
  return {
    state: stateOf(version),
    number: statement,
    version: of,
    draftedBy: drafted.who,
    draftedOn: drafted.when,
    approvedBy: approved?.who ?? null,
    approvedOn: approved?.when ?? null,
    issuedBy: issued?.who ?? null,
    issuedOn: issued?.when ?? null,
    changes: before === null ? [] : changesSince(before, result),
  };
}

export const changesSince = (before: StatementVersion, now: StatementResult): readonly string[] =>
  sayChanges(before.result, now)
    .map((change) => withDecimalMark(change, now.definition.decimalMark ?? "point"))
    .map((change, index) =>
      index === 0 ? `Against statement ${before.statement}, version ${before.of}. ${change}` : change,
    );

/** The part of a stored version that decides what counts. */
export const previousOf = (version: StatementVersion | null): PreviousDefinition | null =>
  version && { thresholds: version.definition.thresholds, hoursKind: version.definition.hoursKind };
