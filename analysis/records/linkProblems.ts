import { tableDescriptors } from "./descriptor.ts";
import type { SetupRow, StoredValues } from "./drop.ts";
import type { MappedRow, Problem } from "./mapping.ts";

/**
 * Links of a drop that lead nowhere: a run of a serial that no list holds, a joint of a redress that no sheet holds.
 * Checked after the last sheet, against the drop, its setup rows and everything stored. The rows are kept; each link
 * is a notice at the row's place.
 */
export function linkProblems(
  rows: readonly MappedRow[],
  setup: readonly SetupRow[],
  stored: Iterable<StoredValues>,
): readonly Problem[] {
  const known = new Set<string>();
  for (const { table, values } of [rows, setup, stored].flatMap((each) => [...each])) {
    const { primaryKey } = tableDescriptors[table];
    known.add(placeOf(table, primaryKey, values));
  }
  return rows.flatMap((row) =>
    tableDescriptors[row.table].foreignKeys.flatMap(({ fields, reference }): Problem[] => {
      if (known.has(placeOf(reference.table, fields, row.values))) return [];
      const column = fields.join(" + ");
      const value = fields.map((field) => String(row.values[field] ?? "")).join(" ");
      const facts = { table: row.table, field: column, reference: reference.table, value };
      return [{ code: "link-not-found", severity: "notice", origin: row.origin, column, value, facts }];
    }),
  );
}

const placeOf = (table: string, fields: readonly string[], values: Readonly<Record<string, unknown>>): string =>
  JSON.stringify([table, ...fields.map((field) => values[field] ?? null)]);
