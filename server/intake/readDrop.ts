import {
  type DropAnswers,
  type DropReading,
  keyOf,
  type Mapping,
  previewDrop,
  type Records,
  type StoredValues,
  type TableName,
  tableNames,
  type WordList,
  withGone,
} from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";
import { type DroppedFile, mergeVocabularies } from "./draft.ts";
import { readSheets } from "./readSheets.ts";

/** Mappings and words that come with the files, as if confirmed before. */
export interface BroughtAlong {
  readonly mappings: readonly Mapping[];
  readonly words: WordList["vocabularies"];
}

/**
 * Reads the files of a drop with what is remembered and answered, against what is stored. A sheet whose mapping was
 * edited by hand is cut the way that mapping says.
 *
 * Errors  those of `readFile` and `mapRows`, each naming the file.
 */
export async function readDrop(
  files: readonly DroppedFile[],
  answers: DropAnswers,
  store: Store,
  broughtAlong: BroughtAlong = { mappings: [], words: {} },
): Promise<DropReading> {
  const [known, storedWords, { records }] = await Promise.all([
    store.rememberedMappings(),
    store.words(),
    store.loadRecords(),
  ]);
  const remembered = [...known, ...broughtAlong.mappings.map((mapping) => aboveKnown(mapping, known))];
  const words = { ...storedWords, vocabularies: mergeVocabularies(broughtAlong.words, storedWords.vocabularies) };
  const sheets = readSheets(files, answers);
  const reading = previewDrop({ sheets, remembered, words, stored: storedValues(records), answers });
  const missing = reading.missing.flatMap(({ rows }) => rows);
  return missing.length === 0 ? reading : withGone(reading, await store.rowsByRef(missing), answers);
}

/** What comes with the files is newer than what is remembered. */
function aboveKnown(mapping: Mapping, known: readonly Mapping[]): Mapping {
  const versions = known.filter(({ fingerprint }) => fingerprint === mapping.fingerprint).map(({ version }) => version);
  return { ...mapping, version: Math.max(mapping.version, ...versions.map((version) => version + 1)) };
}

export function storedValues(records: Records): readonly StoredValues[] {
  return tableNames.flatMap((table) => valuesOf(table, records));
}

function valuesOf<T extends TableName>(table: T, records: Records): readonly StoredValues[] {
  return (records[table] ?? []).map((row) => ({ table, key: keyOf(table, row), values: { ...row } }));
}
