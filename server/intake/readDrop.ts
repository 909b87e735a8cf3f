import {
  type DropAnswers,
  type DropReading,
  keyOf,
  type Mapping,
  nameOfSheet,
  previewDrop,
  type Records,
  type SheetCells,
  type StoredValues,
  type TableName,
  tableNames,
  type WordList,
} from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";
import { type DroppedFile, mergeVocabularies } from "./draft.ts";
import { readFile } from "./readFile.ts";

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
  return previewDrop({ sheets, remembered, words, stored: storedValues(records), answers });
}

/** The sheets of all files, in order; one whose mapping was edited by hand is cut the way that mapping says. */
export function readSheets(
  files: readonly DroppedFile[],
  { mappings = {} }: DropAnswers,
  onRows: (done: number) => void = () => undefined,
): readonly SheetOfDrop[] {
  const edited = new Map(Object.entries(mappings));
  let before = 0;
  return files.flatMap(({ file, bytes }) => {
    const formatOf = (sheet: string | null) => edited.get(nameOfSheet({ file, sheet }))?.format;
    const sheets = readFile(bytes, file, formatOf, (done) => onRows(before + done));
    before += sheets.reduce((sum, { rows }) => sum + rows.length, 0);
    return sheets.map((sheet) => ({ sheet, bytes: bytes.length }));
  });
}

export interface SheetOfDrop {
  readonly sheet: SheetCells;
  /** Size of its file. */
  readonly bytes: number;
}

/** What comes with the files is newer than what is remembered. */
function aboveKnown(mapping: Mapping, known: readonly Mapping[]): Mapping {
  const versions = known.filter(({ fingerprint }) => fingerprint === mapping.fingerprint).map(({ version }) => version);
  return { ...mapping, version: Math.max(mapping.version, ...versions.map((version) => version + 1)) };
}

function storedValues(records: Records): readonly StoredValues[] {
  return tableNames.flatMap((table) => valuesOf(table, records));
}

function valuesOf<T extends TableName>(table: T, records: Records): readonly StoredValues[] {
  return (records[table] ?? []).map((row) => ({ table, key: keyOf(table, row), values: { ...row } }));
}
