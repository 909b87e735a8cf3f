import { applyBatch } from "./applyBatch.ts";
import type { Journal } from "./journal.ts";
import type { JournalEntry, ReadBatch } from "./journalEntry.ts";
import { type LoadedTable, loadTables } from "./readTables.ts";
import { type Database, jsonRows, type Sql } from "./sql.ts";
import { StorageError } from "./storageError.ts";
import type { OpeningNotice } from "./store.ts";
import type { StoredBatch, TableName } from "./types.ts";

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
  readonly tables: ReadonlyMap<TableName, LoadedTable>;
  /** Batches replayed, in order. */
  readonly replayed: readonly StoredBatch[];
  readonly notices: readonly OpeningNotice[];
}

/** Brings the tables up to the journal, one transaction an entry; does nothing where they are level. */
export async function catchUp(database: Database, journal: Journal, readBatch: ReadBatch): Promise<CaughtUp> {
  await adoptJournal(database, journal);
  let tables = await loadTables(database);
  let state = await readState(database);
  const replayed: StoredBatch[] = [];
  const notices: OpeningNotice[] = [];
  const from = state?.sequence ?? 0;
  for (const entry of journal.entries.slice(from)) {
    const { stored, after, differs } = await replayEntry(database, journal, readBatch, entry, tables);
    tables = after;
    if (stored !== null) replayed.push(stored);
    if (differs) notices.push({ code: "replayed-differently", facts: { batch: stored?.batch ?? null } });
  }
  state = await readState(database);
  if (replayed.length > 0) {
    await database.sync();
    notices.unshift({ code: "caught-up", facts: { from, to: state?.sequence ?? null } });
  }
  return { tables, replayed, notices };
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
    "insert into store_state (id, journal, sequence, hash) values (1, $1, 1, $2) on conflict do nothing",
    [first.body.journal, first.hash],
  );
  // Another folder may have been quicker with an empty database.
  refuseMismatch(await readState(database), journal, database.place);
}

async function replayEntry(
  database: Database,
  journal: Journal,
  readBatch: ReadBatch,
  entry: JournalEntry,
  tables: ReadonlyMap<TableName, LoadedTable>,
) {
  const { body } = entry;
  if (body.kind !== "batch") {
    await writeState(database, entry);
    return { stored: null, after: tables, differs: false };
  }
  const files = new Map<string, Uint8Array>();
  for (const { file, sha256 } of body.files) files.set(file, await journal.fileBytes(sha256, file));
  const { sheets, linkProblems } = await readBatch(body, files);
  const content = {
    ...body,
    linkProblems,
    sheets: sheets.map((mapped, index) => {
      const given = body.sheets[index];
      if (given === undefined)
        throw new StorageError("bad-batch", { why: `"${mapped.file}" has no mapping in the journal` });
      return { mapped, mapping: given.mapping };
    }),
  };
  const applied = await database.transaction(async (sql) => {
    const result = await applyBatch(sql, content, tables);
    await writeState(sql, entry);
    return result;
  });
  return { stored: applied.stored, after: applied.tables, differs: applied.stored.dataHash !== body.dataHash };
}
