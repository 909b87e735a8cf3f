import { randomUUID } from "node:crypto";
import { join, resolve } from "node:path";
import { applyBatch } from "./applyBatch.ts";
import { checkInput } from "./checkInput.ts";
import { compareRows, type KeptRow, placeOf, placesOf } from "./compareRows.ts";
import { makeFolder } from "./durableFiles.ts";
import { openEmbedded } from "./embeddedDatabase.ts";
import { lockFolder } from "./folderLock.ts";
import { giveMappingVersions, giveWordsVersion } from "./giveVersions.ts";
import { type Journal, openJournal } from "./journal.ts";
import type { BatchContent, JournalEntry, ReadBatch } from "./journalEntry.ts";
import { readBatch as readBatchAgain } from "./readBatch.ts";
import { readBatches, readProblems, readSetAside } from "./readBatches.ts";
import {
  asStoredRow,
  dataHashOf,
  findRows,
  hashTables,
  type LoadedTable,
  newestMappings,
  openQuestionsOf,
  recordsOf,
  statementsOf,
} from "./readTables.ts";
import { catchUp, readState, refuseMismatch, writeState } from "./reconcile.ts";
import { openServer } from "./serverDatabase.ts";
import { type Database, jsonRows, type Sql } from "./sql.ts";
import { reasonOf, StorageError } from "./storageError.ts";
import type { BatchInput, OpeningNotice, OpenStoreOptions, Store, StoreStep } from "./store.ts";
import type { StoredBatch, TableName, WordList } from "./types.ts";

/**
 * Opens the store of a folder: takes the lock, checks the journal, opens the tables, brings them up to the journal.
 *
 * The journal entry is the promise. Storing writes the rows in a transaction, then the entry, then commits: cut off
 * before the entry, the batch is absent; after it, the next start replays it from its bytes and it is whole.
 *
 * Errors  "folder-in-use", "journal-damaged", "journal-behind-store", "journal-of-another-store", "store-unreadable",
 *         "store-newer", "database-unreachable", "database-too-old"; everything taken is given back
 */
export async function openStore(options: OpenStoreOptions): Promise<Store> {
  const folder = resolve(options.folder);
  const readBatch = options.readBatch ?? readBatchAgain;
  await makeFolder(folder);
  const lock = await lockFolder(folder);
  const notices: OpeningNotice[] = [];
  if (lock.tookOverFrom !== null) notices.push({ code: "stale-lock-taken-over", facts: lock.tookOverFrom });

  let database: Database | null = null;
  try {
    const journal = await openJournal(join(folder, "journal"), options.openFile);
    database = await (options.openDatabase ?? (() => openTables(folder, options.databaseUrl, notices)))();

    refuseMismatch(await readState(database), journal, database.place);
    if (journal.torn !== null) {
      const { sequence } = journal.torn;
      notices.push({ code: "torn-line-set-aside", facts: { sequence, file: await journal.setTornTailAside() } });
    }
    if (journal.entries.length === 0) await journal.append({ kind: "begun", journal: randomUUID(), format: 1 });
    const caughtUp = await catchUp(database, journal, readBatch);
    notices.push(...caughtUp.notices);

    const opened = database;
    return storeOver(opened, journal, readBatch, caughtUp.tables, notices, options.onStep, async () => {
      await opened.close();
      await lock.release();
    });
  } catch (error) {
    await database?.close().catch(() => undefined);
    await lock.release();
    throw error;
  }
}

async function openTables(
  folder: string,
  databaseUrl: string | undefined,
  notices: OpeningNotice[],
): Promise<Database> {
  if (databaseUrl !== undefined && databaseUrl !== "") return await openServer(databaseUrl);
  const embedded = await openEmbedded(join(folder, "data"));
  if (embedded.unfinished !== null) {
    notices.push({ code: "unfinished-data-folder", facts: { folder: embedded.unfinished } });
  }
  return embedded;
}

function storeOver(
  database: Database,
  journal: Journal,
  readBatch: ReadBatch,
  initial: ReadonlyMap<TableName, LoadedTable>,
  opening: readonly OpeningNotice[],
  onStep: OpenStoreOptions["onStep"],
  release: () => Promise<void>,
): Store {
  let tables = initial;
  /** The journal holds a batch that the tables do not: nothing is stored before they are level again. */
  let behind = false;
  let closed = false;
  let last: Promise<unknown> = Promise.resolve();

  const step = async (name: StoreStep) => await onStep?.(name);
  /** One write at a time, in the order asked. */
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    refuseClosed();
    const mine = last.then(work);
    last = mine.catch(() => undefined);
    return mine;
  };
  const refuseClosed = () => {
    if (closed) throw new StorageError("store-closed");
  };
  const open = (): Database => {
    refuseClosed();
    return database;
  };

  const level = async (): Promise<readonly StoredBatch[]> => {
    behind = true;
    const caughtUp = await catchUp(database, journal, readBatch);
    tables = caughtUp.tables;
    behind = false;
    return caughtUp.replayed;
  };

  const store = async (input: BatchInput): Promise<StoredBatch> => {
    const when = checkInput(input);
    if (behind) {
      await level().catch((error: unknown) => {
        throw storageErrorOf(error, database.place);
      });
    }
    const files: BatchContent["files"][number][] = [];
    for (const { file, bytes } of input.files) {
      files.push({ file, sha256: await journal.storeFile(bytes), bytes: bytes.length });
    }
    await step("files written");

    const promised: { entry: JournalEntry | null; batch: number } = { entry: null, batch: 0 };
    let stored: StoredBatch;
    try {
      const applied = await database.transaction(async (sql) => {
        refuseMismatch(await readState(sql, true), journal, database.place);
        const content = await contentOf(sql, input, when, files);
        promised.batch = content.batch;
        const result = await applyBatch(sql, content, tables);
        await step("rows written");
        promised.entry = await journal.append(entryOf(content, result.stored.dataHash));
        await step("journal written");
        await writeState(sql, promised.entry);
        await step("before commit");
        return result;
      });
      tables = applied.tables;
      stored = applied.stored;
    } catch (error) {
      if (promised.entry === null) throw storageErrorOf(error, database.place);
      stored = await keepPromise(promised.batch, error);
    }
    await step("after commit");
    await database.sync();
    await step("before reply");
    return stored;
  };

  /** The entry is written but the commit failed, or nobody knows: the tables are asked and brought up. */
  const keepPromise = async (batch: number, because: unknown): Promise<StoredBatch> => {
    const facts = { batch, reason: reasonOf(because) };
    try {
      await level();
      const stored = (await readBatches(database)).find((each) => each.batch === batch);
      if (stored !== undefined) return stored;
    } catch {
      // The first reason says more than that of the second try.
    }
    throw new StorageError("promised-not-stored", facts);
  };

  const mappings = () => newestMappings(open());

  return {
    kind: database.kind,
    opening,
    compareBatch: async (input) => {
      const before = new Map<string, KeptRow>();
      for (const row of await findRows(open(), placesOf(input))) before.set(placeOf(row), row);
      return compareRows(before, input).comparison;
    },
    storeBatch: (input) => inTurn(() => store(input)),
    loadRecords: async () => {
      const known = await mappings();
      return {
        records: recordsOf(tables),
        dataHash: dataHashOf(tables, statementsOf(known), openQuestionsOf(known)),
      };
    },
    rowsByRef: async (refs) => {
      const found = new Map((await findRows(open(), refs)).map((row) => [placeOf(row), asStoredRow(row)]));
      return refs.flatMap((ref) => found.get(placeOf(ref)) ?? []);
    },
    rowCounts: async () => {
      refuseClosed();
      return Object.fromEntries([...tables].map(([table, { rows }]) => [table, rows.length])) as {
        [T in TableName]: number;
      };
    },
    rememberedMappings: mappings,
    words: () => newestWords(open()),
    batches: () => readBatches(open()),
    setAside: (batch) => readSetAside(open(), batch),
    problems: (batch) => readProblems(open(), batch),
    fileBytes: (sha256) => journal.fileBytes(sha256, sha256),
    tableHashes: () => hashTables(open()),
    openQuestions: async () => openQuestionsOf(await mappings()),
    statements: async () => statementsOf(await mappings()),
    close: async () => {
      if (closed) return;
      closed = true;
      await last;
      await release();
    },
  };
}

/** What is stored of a drop, with the numbers that the store gives. */
async function contentOf(
  sql: Sql,
  input: BatchInput,
  when: string,
  files: BatchContent["files"],
): Promise<BatchContent & { readonly linkProblems: NonNullable<BatchInput["linkProblems"]> }> {
  const [newest] = await jsonRows<number>(sql, "select to_json(coalesce(max(batch), 0)) as row from batches");
  const numbered = giveMappingVersions(
    await newestMappings(sql),
    input.sheets.map(({ mapping }) => mapping),
  );
  return {
    batch: (newest ?? 0) + 1,
    who: input.who,
    when,
    files,
    sheets: input.sheets.map(({ mapped, mapping }, index) => ({ mapped, mapping: numbered[index] ?? mapping })),
    words: giveWordsVersion(await newestWords(sql), input.words),
    setup: input.setup,
    linkProblems: input.linkProblems ?? [],
  };
}

function entryOf(content: Awaited<ReturnType<typeof contentOf>>, dataHash: string) {
  const { sheets, ...rest } = content;
  return {
    kind: "batch" as const,
    ...rest,
    sheets: sheets.map(({ mapped, mapping }) => ({ file: mapped.file, sheet: mapped.sheet, mapping })),
    dataHash,
  };
}

async function newestWords(sql: Sql): Promise<WordList> {
  const [words] = await jsonRows<WordList>(sql, "select words as row from word_lists order by version desc limit 1");
  return words ?? { version: 0, vocabularies: {} };
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
