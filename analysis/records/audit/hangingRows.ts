import {
  keyOf,
  type Records,
  type Row,
  type RowRef,
  type TableDescriptor,
  type TableName,
  tableDescriptors,
  tableNames,
} from "../descriptor.ts";
import { valuesOf } from "./settleRow.ts";
import type { Answer } from "./types.ts";

/**
 * The rows that belong to excluded ones, by the links of the descriptor: runs, redresses and teardowns of a tool, joints
 * and fitted items of a redress, findings of a teardown.
 *
 * @param records   Records without the excluded rows.
 * @returns         One entry an exclusion that leaves anything hanging, in the order given.
 */
export function hangingRows(
  records: Records,
  excluded: readonly { readonly answer: Answer; readonly row: object }[],
): readonly { readonly answer: Answer; readonly rows: readonly RowRef[] }[] {
  return excluded.flatMap(({ answer, row }) => {
    const gone = valuesOf(row);
    const rows = tableNames.flatMap((table) => rowsOn(records, table, answer.table, gone));
    return rows.length === 0 ? [] : [{ answer, rows }];
  });
}

function rowsOn<T extends TableName>(
  records: Records,
  table: T,
  to: TableName,
  gone: Readonly<Record<string, unknown>>,
): readonly RowRef[] {
  return linksOf(table).flatMap(({ fields, reference }) => {
    if (reference.table !== to) return [];
    return (records[table] ?? []).flatMap((row: Row<T>) => {
      const values = valuesOf(row);
      const leads = fields.every((field, index) => values[field] === gone[reference.fields[index] ?? ""]);
      return leads ? [{ table, key: keyOf(table, row) }] : [];
    });
  });
}

const linksOf = (table: TableName): TableDescriptor["foreignKeys"] => tableDescriptors[table].foreignKeys;
