import { type Records, type RowRef, tableNames } from "../../analysis/records/descriptor.ts";
import { mapRows } from "../../analysis/records/mapRows.ts";
import type { Fleet } from "../../datasets/sample-fleet/generator/simulateFleet.ts";
import { writeSheets } from "../../datasets/sample-fleet/generator/writeSheets.ts";
import { readSheet } from "../../server/intake/readSheet.ts";

/** Records of a fleet the long way: written as the shop's sheets, read as bytes, cut, mapped. */
export function throughTheSheets(fleet: Fleet): Records {
  const { sheets, mappings, words } = writeSheets(fleet);
  const rows = new Map<string, RowRef & { readonly values: object }>();
  sheets.forEach(({ file, text }, index) => {
    const mapping = mappings[index]?.mapping;
    if (!mapping) throw new Error(`no mapping for ${file}`);
    const mapped = mapRows(readSheet(new TextEncoder().encode(text), file, mapping.format), mapping, words);
    if (mapped.setAside.length > 0) throw new Error(`${file}: ${mapped.setAside.length} lines set aside`);
    for (const row of mapped.lines.flatMap((line) => line.rows)) rows.set(`${row.table} ${row.key}`, row);
  });
  const all = [...rows.values()];
  return Object.fromEntries(
    tableNames.map((table) => [table, all.filter((row) => row.table === table).map(({ values }) => values)]),
  ) as Records;
}
