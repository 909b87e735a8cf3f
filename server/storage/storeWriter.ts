import { applyBatch, planBatch } from "./applyBatch.ts";
import { applyUndo } from "./applyUndo.ts";
import { contentOf, entryOf, nextBatch } from "./batchContent.ts";
import { type Books, readBooks } from "./books.ts";
import { canonicalJson } from "./canonicalJson.ts";
import { checkAnswers, refuseBad } from "./checkAnswers.ts";
import { checkInput, checkSigned } from "./checkInput.ts";
import type { Journal } from "./journal.ts";
import type { BatchContent, JournalBody, JournalEntry, JournaledStatement, ReadBatch } from "./journalEntry.ts";
import { planUndo, previewOf, type UndoPlan } from "./planUndo.ts";
import type { StoreContent } from "./readTables.ts";
import { catchUp, readState, refuseMismatch, writeState } from "./reconcile.ts";
import type { Database, Sql } from "./sql.ts";
import { draftedVersion, nextStep, nextVersion, versionsOf } from "./statementVersions.ts";
import { reasonOf, StorageError } from "./storageError.ts";
import type { OpenStoreOptions, Store, StoreStep } from "./store.ts";
import { storeAnswers } from "./storeAnswers.ts";

export interface StoreWriter
  extends Pick<
    Store,
    "storeBatch" | "addAnswers" | "bringAnswers" | "undoBatch" | "whileStill" | "draftStatement" | "advanceStatement"
  > {
  /** All data as it stands after the last write. */
  readonly content: StoreContent;
  /** Batches, mappings and words after the last write. */
  readonly books: Books;
  /**
   * Reads rows as the last write left them, also while the next one is being written. `work` gets the number of the batch in
   * hand, whose rows are not to be seen yet; null where none is.
   */
  read<T>(work: (sql: Sql, inHand: number | null) => Promise<T>): Promise<T>;
  /** Resolves when everything asked for so far is written or refused. */
  idle(): Promise<void>;
}

/** What one write comes to, before anything is promised. */
interface Applied<T> {
  readonly result: T;
  readonly content: StoreContent;
  readonly body: JournalBody;
  /** Names the write where the promise could not be kept at once. */
  readonly batch: number | null;
}

interface StoreWriterOptions {
  readonly database: Database;
  readonly journal: Journal;
  readonly readBatch: ReadBatch;
  readonly content: StoreContent;
  readonly books: Books;
  readonly onStep: OpenStoreOptions["onStep"];
}

/**
 * Writes one after the other, each by the same steps: rows in a transaction, the journal entry, the commit. A write is
 * stored from the moment its entry is on the disk.
 */
export function storeWriter({
  database,
  journal,
  readBatch,
  content: initial,
  books: initialBooks,
  onStep,
}: StoreWriterOptions): StoreWriter {
  let content = initial;
  let books = initialBooks;
  /** The transaction of the write in hand, and the number its batch has or would have. */
  let inHand: { readonly sql: Sql; readonly batch: number } | null = null;
  /** The journal holds an entry that the tables do not: nothing is stored before they are level again. */
  let behind = false;
  let last: Promise<unknown> = Promise.resolve();

  const step = async (name: StoreStep) => await onStep?.(name);
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = last.then(work);
    last = mine.catch(() => undefined);
    return mine;
  };
  const level = async () => {
    behind = true;
    content = (await catchUp(database, journal, readBatch)).content;
    books = await readBooks(database);
    behind = false;
  };
  /** Work before the transaction, on tables that are level with the journal. */
  const prepare = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      if (behind) await level();
      return await work();
    } catch (error) {
      throw storageErrorOf(error, database.place);
    }
  };

  const write = async <T>(apply: (sql: Sql) => Promise<Applied<T>>): Promise<T> => {
    await prepare(async () => undefined);
    const promised: { entry: JournalEntry | null; applied: Applied<T> | null } = { entry: null, applied: null };
    let after: Books | null = null;
    let result: T;
    try {
      const applied = await database.transaction(async (sql) => {
        refuseMismatch(await readState(sql, true), journal, database.place);
        inHand = { sql, batch: await nextBatch(sql) };
        const one = await apply(sql);
        after = await readBooks(sql);
        promised.applied = one;
        await step("rows written");
        promised.entry = await journal.append(one.body);
        await step("journal written");
        await writeState(sql, promised.entry);
        await step("before commit");
        return one;
      });
      inHand = null;
      content = applied.content;
      books = after ?? books;
      result = applied.result;
    } catch (error) {
      inHand = null;
      if (promised.entry === null || promised.applied === null) throw storageErrorOf(error, database.place);
      result = await keepPromise(promised.applied, error);
    }
    await step("after commit");
    await database.sync();
    await step("before reply");
    return result;
  };

  /** The entry is written but the commit failed, or nobody knows: the tables are asked and brought up. */
  const keepPromise = async <T>({ batch, result }: Applied<T>, because: unknown): Promise<T> => {
    try {
      await level();
      // What was brought up from the journal is what was applied before: the same content on the same tables.
      return result;
    } catch {
      // The first reason says more than that of the second try.
      throw new StorageError("promised-not-stored", { batch, reason: reasonOf(because) });
    }
  };

  return {
    get content() {
      return content;
    },
    get books() {
      return books;
    },
    async read(work) {
      const now = inHand;
      // A server answers on another connection. The embedded engine has one, which the transaction holds.
      if (now === null || database.kind === "server") return await work(database, null);
      try {
        return await work(now.sql, now.batch);
      } catch {
        // The transaction ended meanwhile; what else may be wrong is told by reading again.
        return await work(database, null);
      }
    },
    async idle() {
      await last;
    },
    storeBatch: (input) =>
      inTurn(async () => {
        const when = checkInput(input);
        const files: BatchContent["files"][number][] = [];
        for (const { file, bytes } of input.files) {
          files.push({ file, sha256: await journal.storeFile(bytes), bytes: bytes.length });
        }
        await step("files written");
        // Compared before the transaction: nobody else writes, and reads are answered meanwhile.
        const { given, plan } = await prepare(async () => {
          const given = await contentOf(database, input, when, files);
          return { given, plan: await planBatch(database, given) };
        });
        return await write(async (sql) => {
          const { stored, content: after } = await applyBatch(sql, plan, content);
          return { result: stored, content: after, body: entryOf(given, stored.dataHash), batch: given.batch };
        });
      }),
    addAnswers: (answers, who, given) =>
      inTurn(async () => {
        const when = checkSigned(who, given);
        const signed = answers.map((answer) => ({ ...answer, who, when }));
        return await write(async (sql) => {
          await checkAnswers(sql, signed, content.answers);
          const { dataHash, content: after } = await storeAnswers(sql, signed, content);
          const body: JournalBody = { kind: "answers", version: 1, who, when, answers, dataHash };
          return { result: signed, content: after, body, batch: null };
        });
      }),
    bringAnswers: (answers, who, given) =>
      inTurn(async () => {
        const when = checkSigned(who, given);
        const known = new Set(content.answers.map(canonicalJson));
        const fresh = answers.filter((answer) => !known.has(canonicalJson(answer)));
        if (fresh.length === 0) return 0;
        refuseBad(fresh);
        return await write(async (sql) => {
          const { dataHash, content: after } = await storeAnswers(sql, fresh, content);
          const body: JournalBody = { kind: "answers", version: 1, who, when, answers: fresh, dataHash };
          return { result: fresh.length, content: after, body, batch: null };
        });
      }),
    draftStatement: ({ statement, definition, result }, who, given) =>
      inTurn(async () => {
        const when = checkSigned(who, given);
        return await write(async () => {
          const place = nextVersion(versionsOf(journal.entries), statement);
          const body: JournaledStatement = {
            kind: "statement",
            version: 1,
            step: "drafted",
            ...place,
            who,
            when,
            contentHash: result.contentHash,
            drafted: { definition, result },
          };
          return { result: draftedVersion(body), content, body, batch: null };
        });
      }),
    advanceStatement: (step, place, who, given) =>
      inTurn(async () => {
        const when = checkSigned(who, given);
        return await write(async () => {
          const { version, body } = nextStep(versionsOf(journal.entries), step, place, { who, when });
          return { result: version, content, body, batch: null };
        });
      }),
    whileStill: (work) => inTurn(work),
    undoBatch: (undoes, who, given) =>
      inTurn(async () => {
        const when = checkSigned(who, given);
        return await write(async (sql) => {
          const plan = refuseEmpty(await planUndo(sql, undoes));
          const batch = await nextBatch(sql);
          const { stored, content: after } = await applyUndo(sql, { batch, who, when }, plan, content);
          const body: JournalBody = { kind: "undo", version: 1, batch, undoes, who, when, dataHash: stored.dataHash };
          return { result: { ...previewOf(plan), stored }, content: after, body, batch };
        });
      }),
  };
}

/** Errors  "nothing-to-undo" where no row would move */
export function refuseEmpty(plan: UndoPlan): UndoPlan {
  if (plan.moves.length === 0) {
    throw new StorageError("nothing-to-undo", { batch: plan.undoes, kept: plan.kept.length });
  }
  return plan;
}

/** A database error before the promise: nothing was stored. Says only its code and message, never its rows. */
function storageErrorOf(error: unknown, place: string): unknown {
  if (error instanceof StorageError || !(error instanceof Error)) return error;
  const { code } = error as NodeJS.ErrnoException;
  const full = code === "53100" || code === "ENOSPC";
  return full
    ? new StorageError("disk-full", { path: place, reason: reasonOf(error) })
    : new StorageError("store-failed", { place, reason: reasonOf(error) });
}
