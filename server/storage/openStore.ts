import { randomUUID } from "node:crypto";
import { dirname, join, resolve } from "node:path";
import { applyAnswers } from "../../analysis/index.ts";
import { readBooks } from "./books.ts";
import { cellSteps } from "./cellSteps.ts";
import { compareRows, type KeptRow, placeOf, placesOf } from "./compareRows.ts";
import { correctionsOf, recordsOfRows, statesOf } from "./correctionsOf.ts";
import { makeFolder } from "./durableFiles.ts";
import { openEmbedded } from "./embeddedDatabase.ts";
import { lockFolder } from "./folderLock.ts";
import { type Journal, openJournal } from "./journal.ts";
import { planUndo, previewOf } from "./planUndo.ts";
import { readBatch as readBatchAgain } from "./readBatch.ts";
import { readProblems, readSetAside } from "./readBatches.ts";
import { readHistory } from "./readHistory.ts";
import {
  asStoredRow,
  dataHashOf,
  findRows,
  hashTables,
  openQuestionsOf,
  readRows,
  recordsOf,
  statementsOf,
} from "./readTables.ts";
import { catchUp, emptyOutdated, readState, refuseMismatch } from "./reconcile.ts";
import { openServer } from "./serverDatabase.ts";
import type { Database } from "./sql.ts";
import { versionsOf } from "./statementVersions.ts";
import { StorageError } from "./storageError.ts";
import type { OpeningNotice, OpenStoreOptions, Store } from "./store.ts";
import { refuseEmpty, type StoreWriter, storeWriter } from "./storeWriter.ts";
import type { RowRef, TableName } from "./types.ts";

/**
 * Opens the store of a folder: takes the lock, checks the journal, opens the tables, brings them up to the journal.
 *
 * The journal entry is the promise. Storing writes the rows in a transaction, then the entry, then commits: cut off
 * before the entry, the batch is absent; after it, the next start replays it from its bytes and it is whole.
 *
 * Errors  "folder-in-use", "journal-damaged", "entry-not-known", "journal-behind-store", "journal-of-another-store", "store-unreadable",
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
    if (await emptyOutdated(database, journal)) notices.push({ code: "made-again", facts: {} });
    const { content, notices: more } = await catchUp(database, journal, readBatch);
    notices.push(...more);

    const opened = database;
    const books = await readBooks(database);
    const writer = storeWriter({ database, journal, readBatch, content, books, onStep: options.onStep });
    const release = async () => {
      await opened.close();
      await lock.release();
    };
    return storeOver({ database, journal, writer, opening: notices, release });
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

/** Drawn at random when the journal was begun. */
function secretOf({ entries }: Journal): string {
  const first = entries[0]?.body;
  return first?.kind === "begun" ? first.journal : "";
}

interface StoreParts {
  readonly database: Database;
  readonly journal: Journal;
  readonly writer: StoreWriter;
  readonly opening: readonly OpeningNotice[];
  readonly release: () => Promise<void>;
}

function storeOver({ database, journal, writer, opening, release }: StoreParts): Store {
  let closed = false;
  const refuseClosed = () => {
    if (closed) throw new StorageError("store-closed");
  };
  const open = (): Database => {
    refuseClosed();
    return database;
  };
  const rowsNow = (refs: readonly RowRef[]) => {
    refuseClosed();
    return writer.read((sql, inHand) => findRows(sql, refs, inHand));
  };
  const books = () => {
    refuseClosed();
    return writer.books;
  };

  return {
    kind: database.kind,
    journalFolder: dirname(journal.logFile),
    opening,
    compareBatch: async (input) => {
      const before = new Map<string, KeptRow>();
      for (const row of await rowsNow(placesOf(input))) before.set(placeOf(row), row);
      return (await compareRows(before, input)).comparison;
    },
    storeBatch: (input) => {
      refuseClosed();
      return writer.storeBatch(input);
    },
    addAnswers: (answers, who, when) => {
      refuseClosed();
      return writer.addAnswers(answers, who, when);
    },
    bringAnswers: (answers, who, when) => {
      refuseClosed();
      return writer.bringAnswers(answers, who, when);
    },
    answers: async () => {
      refuseClosed();
      return writer.content.answers;
    },
    previewUndo: async (batch) => previewOf(refuseEmpty(await planUndo(open(), batch))),
    undoBatch: (batch, who, when) => {
      refuseClosed();
      return writer.undoBatch(batch, who, when);
    },
    loadRecords: async () => {
      const { mappings } = books();
      const { content } = writer;
      return { records: recordsOf(content.tables), dataHash: dataHashOf(content, mappings) };
    },
    loadShop: async () => {
      const { mappings } = books();
      const { content } = writer;
      const raw = recordsOf(content.tables);
      return {
        ...applyAnswers(raw, content.answers),
        raw,
        answers: content.answers,
        dataHash: dataHashOf(content, mappings),
      };
    },
    rowsByRef: async (refs) => {
      const rows = await rowsNow(refs);
      const corrected = correctionsOf(rows, writer.content.answers);
      const found = new Map(rows.map((row) => [placeOf(row), asStoredRow(row, corrected.get(placeOf(row)) ?? [])]));
      return refs.flatMap((ref) => found.get(placeOf(ref)) ?? []);
    },
    cellHistory: async (ref, field) => {
      refuseClosed();
      const history = await writer.read((sql, inHand) => readHistory(sql, ref, inHand));
      const rows = await rowsNow([ref]);
      const about = writer.content.answers.filter((answer) => placeOf(answer) === placeOf(ref));
      const states = statesOf(applyAnswers(recordsOfRows(rows), about), about);
      return cellSteps(ref.table, history, states, field);
    },
    rowsOf: async (table) => {
      const rows = await readRows(open(), table);
      const corrected = correctionsOf(rows, writer.content.answers);
      return rows.map((row) => asStoredRow(row, corrected.get(placeOf(row)) ?? []));
    },
    valueHashes: async () => {
      refuseClosed();
      return Object.fromEntries([...writer.content.tables].map(([table, { hash }]) => [table, hash])) as {
        [T in TableName]: string;
      };
    },
    secret: secretOf(journal),
    statementVersions: async () => {
      refuseClosed();
      return versionsOf(journal.entries);
    },
    draftStatement: (draft, who, when) => {
      refuseClosed();
      return writer.draftStatement(draft, who, when);
    },
    advanceStatement: (step, version, who, when) => {
      refuseClosed();
      return writer.advanceStatement(step, version, who, when);
    },
    whileStill: (work) => {
      refuseClosed();
      return writer.whileStill(work);
    },
    rowCounts: async () => {
      refuseClosed();
      return Object.fromEntries([...writer.content.tables].map(([table, { rows }]) => [table, rows.length])) as {
        [T in TableName]: number;
      };
    },
    rememberedMappings: async () => books().mappings,
    words: async () => books().words,
    batches: async () => books().batches,
    setAside: (batch) => readSetAside(open(), batch),
    problems: (batch) => readProblems(open(), batch),
    fileBytes: (sha256) => journal.fileBytes(sha256, sha256),
    tableHashes: () => hashTables(open()),
    openQuestions: async () => openQuestionsOf(books().mappings),
    statements: async () => statementsOf(books().mappings),
    close: async () => {
      if (closed) return;
      closed = true;
      await writer.idle();
      await release();
    },
  };
}
