import { applyBatch, planBatch } from "./applyBatch.ts";
import { applyUndo } from "./applyUndo.ts";
import type { Journal } from "./journal.ts";
import type { BatchContent, JournalEntry, JournaledBatch, ReadBatch } from "./journalEntry.ts";
import { planUndo } from "./planUndo.ts";
import { loadTables, type StoreContent, storeTables } from "./readTables.ts";
import { type Database, jsonRows, quoted, type Sql } from "./sql.ts";
import { StorageError } from "./storageError.ts";
import type { OpeningNotice } from "./store.ts";
import { readAnswers, storeAnswers } from "./storeAnswers.ts";
import type { StoredBatch } from "./types.ts";

/** The last journal entry that the tables hold. */
interface StoreState {
  readonly journal: string;
  readonly sequence: number;
  readonly hash: string;
}

export async function readState(sql: Sql, lock = false): Promise<StoreState | null> {
  const [state] = await jsonRows<StoreState>(
    sql,
    `select json_build_object('journal', journal, 'sequence', sequence, 'hash', hash) as row
     from store_state where id = 1 ${lock ? "for update" : ""}`,
  );
  return state ?? null;
}

export async function writeState(sql: Sql, { sequence, hash }: JournalEntry): Promise<void> {
  await sql.query("update store_state set sequence = $1, hash = $2 where id = 1", [sequence, hash]);
}

/**
 * Refuses where tables and journal do not belong together or the journal has lost what the tables hold. Changes
 * nothing.
 *
 * Errors  "journal-damaged", "journal-behind-store", "journal-of-another-store"
 */
export function refuseMismatch(state: StoreState | null, journal: Journal, place: string): void {
  if (state === null) return;
  const { entries, torn, logFile } = journal;
  if (torn !== null && state.sequence >= torn.sequence) {
    // The tables hold it, so it was whole on the disk once: not a write cut off, but damage.
    throw new StorageError("journal-damaged", {
      file: logFile,
      sequence: torn.sequence,
      line: torn.sequence,
      why: "the store holds this entry, but the line no longer matches its checksum",
    });
  }
  if (state.sequence > entries.length) {
    throw new StorageError("journal-behind-store", {
      file: logFile,
      stored: state.sequence,
      journaled: entries.length,
    });
  }
  const first = entries[0]?.body;
  const sameJournal = first?.kind === "begun" && first.journal === state.journal;
  if (!sameJournal || entries[state.sequence - 1]?.hash !== state.hash) {
    throw new StorageError("journal-of-another-store", { place, file: logFile });
  }
}

export interface CaughtUp {
  readonly content: StoreContent;
  /** Batches replayed, in order. */
  readonly replayed: readonly StoredBatch[];
  readonly notices: readonly OpeningNotice[];
}

/** What the tables keep. Version 2 added the history of rows, which an undo needs, and answers. */
export const keptVersion = 2;

/**
 * Empties tables that keep less than this version does, so that they are made again from the journal. Only after
 * `refuseMismatch`, and after every byte that the journal names was found and checked: what is emptied can be filled.
 *
 * @returns whether they were emptied
 */
export async function emptyOutdated(database: Database, journal: Journal): Promise<boolean> {
  const [keeps] = await jsonRows<number>(database, "select to_json(keeps) as row from store_state where id = 1");
  if (keeps === undefined || keeps >= keptVersion) return false;
  await checkFiles(journal);
  await database.transaction(async (sql) => {
    for (const name of [...storeTables, "store_state"]) await sql.query(`delete from ${quoted(name)}`);
  });
  return true;
}

/** Finds and checks the bytes of every journaled batch. Errors  "journal-file-missing", "journal-file-damaged". */
export async function checkFiles(journal: Journal): Promise<void> {
  for (const { body } of journal.entries) {
    if (body.kind !== "batch") continue;
    for (const { file, sha256 } of body.files) await journal.fileBytes(sha256, file);
  }
}

/** Brings the tables up to the journal, one transaction an entry; does nothing where they are level. */
export async function catchUp(database: Database, journal: Journal, readBatch: ReadBatch): Promise<CaughtUp> {
  await adoptJournal(database, journal);
  let content: StoreContent = {
    tables: await database.transaction((sql) => loadTables(sql)),
    answers: await readAnswers(database),
  };
  let state = await readState(database);
  const replayed: StoredBatch[] = [];
  const notices: OpeningNotice[] = [];
  const from = state?.sequence ?? 0;
  for (const entry of journal.entries.slice(from)) {
    const { stored, after, differs } = await replayEntry(database, journal, readBatch, entry, content);
    content = after;
    if (stored !== null) replayed.push(stored);
    if (differs)
      notices.push({ code: "replayed-differently", facts: { batch: stored?.batch ?? null, entry: entry.sequence } });
  }
  state = await readState(database);
  if (journal.entries.slice(from).some(({ body }) => body.kind !== "begun")) {
    await database.sync();
    notices.unshift({ code: "caught-up", facts: { from, to: state?.sequence ?? null } });
  }
  return { content, replayed, notices };
}

/** Writes into empty tables whose they are. */
async function adoptJournal(database: Database, journal: Journal): Promise<void> {
  const [first] = journal.entries;
  if (first?.body.kind !== "begun") {
    throw new StorageError("journal-damaged", {
      file: journal.logFile,
      sequence: 1,
      line: 1,
      why: "it does not say which journal this is",
    });
  }
  await database.query(
    "insert into store_state (id, journal, sequence, hash, keeps) values (1, $1, 1, $2, $3) on conflict do nothing",
    [first.body.journal, first.hash, keptVersion],
  );
  // Another folder may have been quicker with an empty database.
  refuseMismatch(await readState(database), journal, database.place);
}

interface Replayed {
  readonly stored: StoredBatch | null;
  readonly after: StoreContent;
  readonly differs: boolean;
}

async function replayEntry(
  database: Database,
  journal: Journal,
  readBatch: ReadBatch,
  entry: JournalEntry,
  now: StoreContent,
): Promise<Replayed> {
  const { body } = entry;
  const inTransaction = (work: (sql: Sql) => Promise<Replayed>) =>
    database.transaction(async (sql) => {
      const result = await work(sql);
      await writeState(sql, entry);
      return result;
    });
  switch (body.kind) {
    case "statement":
    case "begun":
      await writeState(database, entry);
      return { stored: null, after: now, differs: false };
    case "answers": {
      const { who, when, answers } = body;
      return inTransaction(async (sql) => {
        const given = answers.map((answer) => ({ who, when, ...answer }));
        const { dataHash, content } = await storeAnswers(sql, given, now);
        return { stored: null, after: content, differs: dataHash !== body.dataHash };
      });
    }
    case "undo":
      return inTransaction(async (sql) => {
        const { stored, content } = await applyUndo(sql, body, await planUndo(sql, body.undoes), now);
        return { stored, after: content, differs: stored.dataHash !== body.dataHash };
      });
    case "batch": {
      const given = await contentAgain(body, journal, readBatch);
      return inTransaction(async (sql) => {
        const { stored, content } = await applyBatch(sql, await planBatch(sql, given), now);
        return { stored, after: content, differs: stored.dataHash !== body.dataHash };
      });
    }
  }
}

/** A journaled batch read again from its bytes. */
async function contentAgain(body: JournaledBatch, journal: Journal, readBatch: ReadBatch): Promise<BatchContent> {
  const files = new Map<string, Uint8Array>();
  for (const { file, sha256 } of body.files) files.set(file, await journal.fileBytes(sha256, file));
  const { sheets, linkProblems } = await readBatch(body, files);
  return {
    ...body,
    linkProblems,
    sheets: sheets.map((mapped, index) => {
      const given = body.sheets[index];
      if (given === undefined)
        throw new StorageError("bad-batch", { why: `"${mapped.file}" has no mapping in the journal` });
      const { mapping, exported } = given;
      return { mapped, mapping, ...(exported === undefined ? {} : { exported }) };
    }),
  };
}
