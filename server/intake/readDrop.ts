import {
  type DropAnswers,
  type DropReading,
  keyOf,
  type Mapping,
  previewDrop,
  type Records,
  type SheetCells,
  type SheetFormat,
  type StoredValues,
  type TableName,
  tableNames,
  type WordList,
} from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";
import { type DroppedFile, mergeVocabularies } from "./draft.ts";
import { readSheet } from "./readSheet.ts";

/** Mappings and words that come with the files, as if confirmed before. */
export interface BroughtAlong {
  readonly mappings: readonly Mapping[];
  readonly words: WordList["vocabularies"];
}

/** Mappings and words that come with the files, as if confirmed before. */
export interface BroughtAlong {
  readonly mappings: readonly Mapping[];
  readonly words: WordList["vocabularies"];
}

/**
 * Reads the files of a drop with what is remembered and answered, against what is stored. A sheet whose mapping says
 * how it is cut (an edited or a remembered one) is cut that way, so that a rebuild reads the same rows.
 *
 * Errors  those of `readSheet` and `mapRows`, each naming the file.
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
  const read = (formats: ReadonlyMap<string, SheetFormat>) => {
    const sheets = files.map(({ file, bytes }) => ({
      sheet: readSheet(bytes, file, formats.get(file)),
      bytes: bytes.length,
    }));
    return { sheets, reading: previewDrop({ sheets, remembered, words, stored: storedValues(records), answers }) };
  };
  const edited = new Map(Object.entries(answers.mappings ?? {}).map(([file, { format }]) => [file, format]));
  const first = read(edited);
  const differing = first.reading.mapped.flatMap(({ mapping }, index) => {
    const sheet = first.sheets[index]?.sheet;
    return sheet !== undefined && !sameFormat(sheet, mapping) ? [[sheet.file, mapping.format] as const] : [];
  });
  return differing.length === 0 ? first.reading : read(new Map([...edited, ...differing])).reading;
}

/** What comes with the files is newer than what is remembered. */
function aboveKnown(mapping: Mapping, known: readonly Mapping[]): Mapping {
  const versions = known.filter(({ fingerprint }) => fingerprint === mapping.fingerprint).map(({ version }) => version);
  return { ...mapping, version: Math.max(mapping.version, ...versions.map((version) => version + 1)) };
}

const sameFormat = ({ format }: SheetCells, mapping: Mapping): boolean =>
  format.encoding === mapping.format.encoding &&
  format.delimiter === mapping.format.delimiter &&
  format.decimal === mapping.format.decimal &&
  format.skipLines === mapping.format.skipLines &&
  format.comment === mapping.format.comment;

function storedValues(records: Records): readonly StoredValues[] {
  return tableNames.flatMap((table) => valuesOf(table, records));
}

function valuesOf<T extends TableName>(table: T, records: Records): readonly StoredValues[] {
  return (records[table] ?? []).map((row) => ({ table, key: keyOf(table, row), values: { ...row } }));
}
