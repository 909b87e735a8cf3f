import { type TableName, tableDescriptors } from "./descriptor.ts";
import type { DropLineCounts, ValueChange } from "./drop.ts";
import type { MappedRow, MappedSheet, Mapping, TableMapping } from "./mapping.ts";
import { sameValue } from "./sameValues.ts";

export interface SheetComparison {
  readonly counts: DropLineCounts;
  readonly rowsByTable: { readonly [T in TableName]?: number };
  readonly changes: readonly ValueChange[];
}

/**
 * What a mapped sheet would do to the stored rows. Each line counts once: set aside, else changed where any of its rows
 * changes a stored value, else new where any is not stored yet, else unchanged (also where all its rows repeat rows of
 * earlier lines). Fields that the sheet has no column for cannot change a stored value.
 *
 * @param storedValues  The values stored under a table and key, or undefined.
 */
export function compareSheet(
  sheet: MappedSheet,
  mapping: Mapping,
  storedValues: (table: TableName, key: string) => Readonly<Record<string, unknown>> | undefined,
): SheetComparison {
  const mappedFields = fieldsByTable([...mapping.tables, ...mapping.addRows]);
  const counts = { lines: sheet.lines.length + sheet.setAside.length, new: 0, unchanged: 0, changed: 0 };
  const rowsByTable = new Map<TableName, number>();
  const changes: ValueChange[] = [];
  for (const { rows } of sheet.lines) {
    let [fresh, changed] = [false, false];
    for (const row of rows) {
      rowsByTable.set(row.table, (rowsByTable.get(row.table) ?? 0) + 1);
      const stored = storedValues(row.table, row.key);
      if (stored === undefined) fresh = true;
      const found = stored === undefined ? [] : changesOf(row, stored, mappedFields.get(row.table) ?? new Set());
      changed ||= found.length > 0;
      changes.push(...found);
    }
    if (changed) counts.changed++;
    else if (fresh) counts.new++;
    else counts.unchanged++;
  }
  return {
    counts: { ...counts, setAside: sheet.setAside.length },
    rowsByTable: Object.fromEntries(rowsByTable),
    changes,
  };
}

function changesOf(
  row: MappedRow,
  stored: Readonly<Record<string, unknown>>,
  fields: ReadonlySet<string>,
): readonly ValueChange[] {
  return tableDescriptors[row.table].fields.flatMap(({ name }): ValueChange[] => {
    const becomes = row.values[name] ?? null;
    const was = stored[name] ?? null;
    if (sameValue(was, becomes) || (!fields.has(name) && (becomes === null || becomes === "not known"))) return [];
    return [{ row: { table: row.table, key: row.key }, field: name, was, becomes, origin: row.origin }];
  });
}

function fieldsByTable(tables: readonly TableMapping[]): ReadonlyMap<TableName, ReadonlySet<string>> {
  const fields = new Map<TableName, Set<string>>();
  for (const { table, columns, members = [], list } of tables) {
    const known = fields.get(table) ?? new Set();
    for (const name of [columns, ...members].flatMap(Object.keys)) known.add(name);
    if (list !== undefined) known.add(list.field);
    fields.set(table, known);
  }
  return fields;
}
