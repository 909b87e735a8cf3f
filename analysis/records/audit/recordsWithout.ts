import { keyOf, type Records, type Row, type RowRef, type TableName, tableNames } from "../descriptor.ts";
import { fieldOf } from "./fitsField.ts";
import type { AuditRow } from "./types.ts";

/**
 * Records without what is in doubt, for an answer "with and without". A doubt about a cell that may be empty empties it
 * (the hours of a heaped run become not written down, the run stays: leaving it out would make every later age too low);
 * a doubt about a whole row, or about a cell that must be filled, leaves the row out. Of a doubt about a group all its
 * rows are taken so; the others of any other doubt are only its witnesses and stay. Teardowns by somebody who rarely
 * writes down what is sound stay too: what they do say is not in doubt.
 *
 * The records given are never changed.
 */
export function recordsWithout(records: Records, auditRows: readonly AuditRow[]): Records {
  const emptied = new Map<string, Set<string>>();
  const left = new Set<string>();
  for (const { rule, row, column, others } of auditRows) {
    if (rule === "sound looks rarely written") continue;
    const isGroup = rule === "hours heaped" || rule === "other too often";
    for (const ref of isGroup ? [row, ...others] : [row]) {
      if (column === null || fieldOf(ref.table, column)?.required === true) left.add(placeOf(ref));
      else emptied.set(placeOf(ref), (emptied.get(placeOf(ref)) ?? new Set()).add(column));
    }
  }
  const without = <T extends TableName>(table: T): readonly Row<T>[] | undefined =>
    records[table]?.flatMap((row: Row<T>): readonly Row<T>[] => {
      const place = placeOf({ table, key: keyOf(table, row) });
      if (left.has(place)) return [];
      const empty = emptied.get(place);
      return [empty === undefined ? row : { ...row, ...Object.fromEntries([...empty].map((name) => [name, null])) }];
    });
  const tables = new Set(auditRows.map(({ row }) => row.table));
  return {
    ...records,
    ...Object.fromEntries(
      tableNames
        .filter((table) => tables.has(table) && records[table] !== undefined)
        .map((table) => [table, without(table)]),
    ),
  };
}

const placeOf = ({ table, key }: RowRef): string => `${table} ${key}`;
