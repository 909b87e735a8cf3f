/** What went wrong with the store or its journal, as a code. Facts name the place. */
export type StorageErrorCode =
  | "folder-in-use"
  | "folder-in-use-elsewhere"
  | "journal-damaged"
  | "journal-behind-store"
  | "journal-of-another-store"
  | "journal-file-missing"
  | "journal-file-damaged"
  | "journal-stopped"
  | "disk-full"
  | "write-failed"
  | "store-failed"
  | "store-unreadable"
  | "store-newer"
  | "database-unreachable"
  | "database-too-old"
  | "row-not-storable"
  | "bad-batch"
  | "promised-not-stored"
  | "store-closed"
  | "entry-not-known"
  | "no-such-batch"
  | "nothing-to-undo"
  | "no-such-statement"
  | "statement-step"
  | "bad-answer"
  | "answer-outdated"
  | "backup-damaged"
  | "folder-not-empty"
  | "move-differs";

type Facts = Readonly<Record<string, string | number | null>>;

const sentences: { readonly [C in StorageErrorCode]: (facts: Facts) => string } = {
  "folder-in-use": (f) =>
    `The folder ${f.folder} is in use by process ${f.pid} on this machine since ${f.since}. Close that program first, or choose another folder.`,
  "folder-in-use-elsewhere": (f) =>
    `The folder ${f.folder} is marked as in use by process ${f.pid} on the machine "${f.host}" since ${f.since}; from here nobody can see whether it still runs. If it surely does not, delete ${f.file} and start again.`,
  "journal-damaged": (f) =>
    `The journal ${f.file} is damaged at entry ${f.sequence} (line ${f.line}): ${f.why}. Nothing was changed. Put back a copy of the journal folder, or keep the entries before it and drop the later sheets again.`,
  "journal-behind-store": (f) =>
    `The store holds entry ${f.stored}, but the journal ${f.file} ends at entry ${f.journaled}. Part of the journal is missing; nothing was changed. Put back the newest copy of the journal folder.`,
  "journal-of-another-store": (f) =>
    `The store at ${f.place} was filled from another journal than ${f.file}. Nothing was changed. Use the folder that belongs to this store, or an empty database.`,
  "journal-file-missing": (f) =>
    `The journal has no bytes for "${f.file}" (${f.path}). Put the file back from a copy of the journal folder.`,
  "journal-file-damaged": (f) =>
    `The bytes kept for "${f.file}" (${f.path}) are not those that were dropped: the checksum differs. Put the file back from a copy of the journal folder.`,
  "journal-stopped": (f) =>
    `The journal could not be written earlier (${f.because}), so nothing more is stored until the program is started again. What was stored before is safe.`,
  "disk-full": (f) =>
    `The disk is full: ${f.path} could not be written. What was sent was not stored; everything stored before is safe. Make room and send it again.`,
  "write-failed": (f) =>
    `${f.path} could not be written (${f.reason}). What was sent was not stored; everything stored before is safe. Check the disk and the permissions of the folder, then try again.`,
  "store-failed": (f) =>
    `The store at ${f.place} did not take what was sent (${f.reason}). It was not stored; everything stored before is safe. Send it again; if that fails too, start the program again.`,
  "store-unreadable": (f) =>
    `The store at ${f.place} could not be opened (${f.reason}). The journal beside it holds everything that was stored: run "npm run afterrun -- rebuild" to make the store again from it.`,
  "store-newer": (f) =>
    `The store at ${f.place} was last opened by a newer version of this program. Nothing was changed. Start that version.`,
  "database-unreachable": (f) =>
    `The database at ${f.place} does not answer (${f.reason}). Check that it runs, and the address, user and password in DATABASE_URL.`,
  "database-too-old": (f) => `The database at ${f.place} is PostgreSQL ${f.version}; version 15 or newer is needed.`,
  "row-not-storable": (f) =>
    `${f.file}, line ${f.line}: ${f.table}.${f.field} cannot be stored: ${f.why}. Correct the cell or its mapping and drop the file again.`,
  "bad-batch": (f) => `The drop cannot be stored: ${f.why}.`,
  "promised-not-stored": (f) =>
    `${f.batch === null ? "What was decided" : `Batch ${f.batch}`} is safe in the journal, but the store could not take it (${f.reason}). It will be there after the next start; ${f.batch === null ? "do not send it again" : "do not drop the sheets again"}.`,
  "store-closed": () => "The store is closed.",
  "entry-not-known": (f) =>
    `Entry ${f.sequence} of the journal ${f.file} is of a kind ("${f.kind}", version ${f.version}) that this version of the program does not know. Nothing was changed. Start the newer version that wrote it.`,
  "no-such-batch": (f) => `There is no batch ${f.batch}. The stored batches are listed under Records.`,
  "nothing-to-undo": (f) =>
    f.kept === 0
      ? `Taking back batch ${f.batch} would change nothing: no row stands as it left it. Nothing was stored.`
      : `Taking back batch ${f.batch} would change nothing: later batches changed all of its ${f.kept} rows. Take those back first.`,
  "no-such-statement": (f) =>
    `There is no statement ${f.statement}${f.version === null ? "" : `, version ${f.version}`}. The stored ones are listed under Customer statement.`,
  "statement-step": (f) =>
    `Statement ${f.statement}, version ${f.of}, cannot be ${f.step}: ${f.why}. Nothing was stored.`,
  "bad-answer": (f) =>
    f.place === null
      ? "There is no answer to store. Give at least one."
      : `Answer ${f.number} (${f.place}) cannot be stored: ${f.why}. None of the answers sent together was stored; correct it and send them again.`,
  "answer-outdated": (f) =>
    `Answer ${f.number} (${f.place}) was given on something that no longer stands: ${f.why}. None of the answers sent together was stored; look at the row again.`,
  "backup-damaged": (f) =>
    `The backup ${f.file} cannot be used: ${f.why}. Nothing was changed. Take another copy of the file, or an older backup.`,
  "folder-not-empty": (f) =>
    `${f.folder} already holds ${f.holds}. Nothing was changed. Name a folder that is empty or not there yet.`,
  "move-differs": (f) =>
    `The tables at ${f.place} came out otherwise than those moved (${f.tables}). The old store is unchanged and stays in use; run "npm run afterrun -- rebuild" on it to see where it differs from its journal.`,
};

/** One storage error as sentences: what is wrong, where, what to do. */
export function sayStorageError(code: StorageErrorCode, facts: Facts): string {
  return sentences[code](facts);
}
