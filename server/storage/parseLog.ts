import { noHash, sha256 } from "./canonicalJson.ts";
import type { JournalBody, JournalEntry } from "./journalEntry.ts";
import { StorageError } from "./storageError.ts";

export interface TornTail {
  /** Number the cut-off entry would have had. */
  readonly sequence: number;
  readonly bytes: Uint8Array;
}

export interface ParsedLog {
  readonly entries: readonly JournalEntry[];
  readonly torn: TornTail | null;
  /** Bytes of the whole entries. */
  readonly length: number;
}

const lineEnd = 0x0a;
const linePattern = /^\{"hash":"([0-9a-f]{64})","entry":(.*)\}$/s;

/**
 * Reads the bytes of a journal and checks every entry: hash, number, chain.
 *
 * A last line that does not hold is torn: power may fail in mid-write, and blocks may reach the disk in any order. One
 * before the last was on the disk before the next was begun, so there it is damage.
 *
 * Errors  "journal-damaged" with the entry's number and line
 */
export function parseLog(file: string, bytes: Uint8Array): ParsedLog {
  const entries: JournalEntry[] = [];
  let start = 0;
  while (start < bytes.length) {
    const end = bytes.indexOf(lineEnd, start);
    const sequence = entries.length + 1;
    const line = Buffer.from(bytes.subarray(start, end === -1 ? bytes.length : end)).toString("utf8");
    const read = end === -1 ? "it is cut off" : readLine(line, sequence, entries.at(-1)?.hash ?? noHash);
    if (typeof read === "string") {
      if (end !== -1 && end + 1 < bytes.length && holdsALaterEntry(bytes.subarray(end + 1))) {
        throw new StorageError("journal-damaged", { file, sequence, line: sequence, why: read });
      }
      return { entries, torn: { sequence, bytes: bytes.subarray(start) }, length: start };
    }
    entries.push(read);
    start = end + 1;
  }
  return { entries, torn: null, length: start };
}

/** The entry, or why the line is none. */
function readLine(line: string, sequence: number, previous: string): JournalEntry | string {
  const match = linePattern.exec(line);
  const [, hash, text] = match ?? [];
  if (hash === undefined || text === undefined) return "the line is not an entry";
  if (sha256(text) !== hash) return "its text does not match its checksum";
  const entry = JSON.parse(text) as {
    readonly sequence: number;
    readonly previous: string;
    readonly body: JournalBody;
  };
  if (entry.sequence !== sequence) return `it says that it is entry ${entry.sequence}`;
  if (entry.previous !== previous) return "it does not follow the entry before it";
  return { sequence, previous, hash, body: entry.body };
}

/** Garbage of a torn write may hold line ends; an entry that matches its own hash cannot come about by chance. */
function holdsALaterEntry(bytes: Uint8Array): boolean {
  return Buffer.from(bytes)
    .toString("utf8")
    .split("\n")
    .some((line) => {
      const [, hash, text] = linePattern.exec(line) ?? [];
      return hash !== undefined && text !== undefined && sha256(text) === hash;
    });
}
