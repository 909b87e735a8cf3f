/** The fleet's records as the sheets a shop would keep, with the confirmed mappings that read them. */
import { fingerprintOf } from "../../../analysis/records/fingerprintOf.ts";
import type { Mapping, WordList } from "../../../analysis/records/mapping.ts";
import { normalisePhrase } from "../../../analysis/records/normalisePhrase.ts";
import { buildSheet } from "./buildSheet.ts";
import { listSheets } from "./listSheets.ts";
import { runLog, teardownFindings } from "./logSheets.ts";
import { planSheets } from "./planSheets.ts";
import type { PlantedFault } from "./plantFaults.ts";
import { placeOf, type SheetText } from "./sheetTypes.ts";
import { pulledWords, redressWords, shopWords, teardownWhyWords } from "./shopWords.ts";
import type { Fleet } from "./simulateFleet.ts";
import { toolTypes } from "./toolTypes.ts";

/** A planted fault with the cell it stands in; file and line are null for a row that is missing. */
export type PlacedFault = PlantedFault & {
  readonly file: string | null;
  readonly line: number | null;
  readonly header: string | null;
};

export interface FleetSheets {
  readonly sheets: readonly SheetText[];
  readonly mappings: readonly { readonly file: string; readonly mapping: Mapping }[];
  readonly words: WordList;
  readonly planted: readonly PlacedFault[];
}

export function writeSheets(fleet: Fleet): FleetSheets {
  const { recorded, options } = fleet;
  const written = new Map<string, string>();
  for (const { row, column, written: cell } of fleet.planted)
    if (cell !== null) written.set(`${placeOf(row)} ${column}`, cell);
  const sheets = [
    ...listSheets(recorded),
    ...toolTypes.map((type) => buildSheet(recorded, type, written)),
    runLog(recorded, options.seed, aliasesOfOneMeaning),
    teardownFindings(recorded, options.seed, aliasesOfOneMeaning),
    ...planSheets(recorded),
  ];
  return {
    sheets,
    mappings: sheets.map((sheet) => ({ file: sheet.file.replace(/\.csv$/, ".json"), mapping: mappingOf(sheet) })),
    words: wordList,
    planted: fleet.planted.map((fault) => placed(fault, sheets)),
  };
}

function mappingOf(sheet: SheetText): Mapping {
  return {
    name: sheet.title,
    version: 1,
    fingerprint: fingerprintOf(sheet.headers.map((header) => header.name)),
    format: sheet.format,
    tables: sheet.tables,
    addRows: sheet.addRows,
  };
}

function placed(fault: PlantedFault, sheets: readonly SheetText[]): PlacedFault {
  const place = placeOf(fault.row);
  const sheet = sheets.find((candidate) => candidate.places.has(place));
  if (sheet === undefined) return { ...fault, file: null, line: null, header: null };
  const header = fault.column === null ? null : sheet.headerOf(fault.row, fault.column);
  return { ...fault, file: sheet.file, line: sheet.places.get(place) ?? null, header };
}

const aliasesOfOneMeaning: ReadonlyMap<string, readonly string[]> = (() => {
  const aliases = new Map<string, readonly string[]>();
  for (const { item, aliases: words } of toolTypes.flatMap((type) => type.items)) {
    // A joint's everyday name depends on the tool type: only its number is used in the logs.
    if (!/^J\d$/.test(item)) aliases.set(item, words);
  }
  return aliases;
})();

const vocabulary = (entries: readonly (readonly [string | null, readonly string[]])[]) =>
  Object.fromEntries(
    entries.flatMap(([meaning, phrases]) =>
      [...(meaning === null ? [] : [meaning]), ...phrases]
        .map(normalisePhrase)
        .filter((phrase) => phrase !== "")
        .map((phrase) => [phrase, meaning]),
    ),
  );

const wordList: WordList = {
  version: 1,
  vocabularies: {
    conditions: vocabulary(Object.entries(shopWords)),
    items: vocabulary(
      toolTypes.flatMap((type) =>
        type.items.map((item): readonly [string, readonly string[]] => [
          item.item,
          /^J\d$/.test(item.item) ? [] : item.aliases,
        ]),
      ),
    ),
    "redress reasons": vocabulary(Object.entries(redressWords)),
    "pulled because": vocabulary(Object.entries(pulledWords)),
    "teardown why": vocabulary(Object.entries(teardownWhyWords).map(([meaning, phrase]) => [meaning, [phrase]])),
    "teardown kind": vocabulary([
      ["stripped", ["strip"]],
      ["outside only", ["outside look"]],
      ["pressure test", []],
    ]),
    "tool status": vocabulary([
      ["in shop", []],
      ["out", []],
      ["lost in hole", ["LIH"]],
      ["scrapped", ["scrap"]],
      ["not known", []],
    ]),
  },
};
