import type { Journal } from "../journal.ts";
import type { JournalEntry } from "../journalEntry.ts";
import { checkFiles } from "../reconcile.ts";

/** First entry of a backup: what it holds, so that a reader can check each part as it comes. */
export interface BackupManifest {
  readonly afterrunBackup: 1;
  /** Name of the journal. */
  readonly journal: string;
  readonly madeAt: string;
  readonly entries: number;
  /** Hash of the last entry, which chains all before it. */
  readonly lastHash: string;
  /** Hash of all data after the last entry; null before the first. */
  readonly dataHash: string | null;
  readonly log: { readonly bytes: number; readonly sha256: string };
  readonly files: readonly { readonly sha256: string; readonly bytes: number }[];
}

export const manifestName = "manifest.json";
export const logName = "journal/log.jsonl";
export const fileName = (sha256: string): string => `journal/files/${sha256}`;

/**
 * What a backup of a journal holds: its whole entries and every file they name, each checked.
 *
 * @param log  Bytes of the whole entries, with their hash.
 */
export async function manifestOf(
  journal: Journal,
  log: BackupManifest["log"],
  madeAt: string,
): Promise<BackupManifest | null> {
  const { entries } = journal;
  const first = entries[0]?.body;
  const last = entries.at(-1);
  if (first?.kind !== "begun" || last === undefined) return null;
  await checkFiles(journal);
  const files = new Map<string, number>();
  for (const { body } of entries) {
    if (body.kind === "batch") for (const { sha256, bytes } of body.files) files.set(sha256, bytes);
  }
  return {
    afterrunBackup: 1,
    journal: first.journal,
    madeAt,
    entries: entries.length,
    lastHash: last.hash,
    dataHash: dataHashAt(entries),
    log,
    files: [...files].map(([sha256, bytes]) => ({ sha256, bytes })),
  };
}

/** The hash of all data after the last entry that changed any. */
function dataHashAt(entries: readonly JournalEntry[]): string | null {
  const last = entries.findLast(({ body }) => "dataHash" in body)?.body;
  return last !== undefined && "dataHash" in last ? last.dataHash : null;
}
