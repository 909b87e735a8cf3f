import { readBatches } from "./readBatches.ts";
import { newestMappings, newestWords } from "./readTables.ts";
import type { Sql } from "./sql.ts";
import type { Mapping, StoredBatch, WordList } from "./types.ts";

/**
 * What nearly every request asks besides the rows. Kept as the last write left it, so that it is told while the next write
 * holds the tables: the embedded engine answers nothing else during a transaction.
 */
export interface Books {
  readonly batches: readonly StoredBatch[];
  readonly mappings: readonly Mapping[];
  readonly words: WordList;
}

export async function readBooks(sql: Sql): Promise<Books> {
  return { batches: await readBatches(sql), mappings: await newestMappings(sql), words: await newestWords(sql) };
}
