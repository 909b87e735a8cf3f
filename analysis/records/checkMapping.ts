import type { Mapping, WordList } from "./mapping.ts";
import { planSheet } from "./planSheet.ts";

/**
 * Checks a mapping that comes from elsewhere, before any sheet is read under it: tables, fields, constants, patterns.
 *
 * Errors  "bad-mapping" for an unknown table or field, a constant that the field cannot hold, an unsafe pattern.
 */
export function checkMapping(mapping: Mapping, words: WordList): void {
  const nothing = { file: mapping.name, sheet: null, format: mapping.format, headers: [], headerLine: 1, rows: [] };
  const { planTable } = planSheet(nothing, mapping.format, words);
  for (const table of [...mapping.tables, ...mapping.addRows]) planTable(table);
}
