/** A mapping changed by hand, one column at a time. What a list of choices can change; the rest stays as it is. */
import { type FieldDescriptor, type TableName, tableDescriptors } from "./descriptor.ts";
import type { ColumnRule, Mapping, TableMapping } from "./mapping.ts";
import { headersOf } from "./ruleUses.ts";
import { vocabularyOf } from "./sheetColumns.ts";
import { unitOf } from "./units.ts";

/** A canonical field that a whole column is read into, and the unit of its cells (null: that of the field). */
export interface ColumnTarget {
  readonly table: TableName;
  readonly field: string;
  readonly unit: string | null;
}

/** Fields that a column is read into as it stands: those that can be chosen from a list. */
export function targetsOf(mapping: Mapping, header: string): readonly ColumnTarget[] {
  return mapping.tables.flatMap(({ table, columns }) =>
    Object.entries(columns).flatMap(([field, rule]) =>
      "from" in rule && rule.from === header ? [{ table, field, unit: rule.unit ?? unitOfField(table, field) }] : [],
    ),
  );
}

/** Whether a column also serves as a part of something: one joint of several, a key put together, a pattern. */
export function hasOtherUses(mapping: Mapping, header: string): boolean {
  const reads = (rule: ColumnRule) => headersOf(rule).includes(header);
  return [...mapping.tables, ...mapping.addRows].some(
    ({ columns, members = [], list }) =>
      list?.from === header ||
      members.some((member) => Object.values(member).some(reads)) ||
      Object.values(columns).some((rule) => reads(rule) && !("from" in rule)),
  );
}

/**
 * The mapping with one use of a column changed.
 *
 * @param from  The use that changes; null adds one.
 * @param to    The field it is read into from now on; null: into none. Another column that was read into that field no
 *              longer is. A table that the mapping does not know yet is added; its key may then be missing, which shows
 *              as a problem of every line.
 */
export function withTarget(
  mapping: Mapping,
  header: string,
  from: ColumnTarget | null,
  to: ColumnTarget | null,
): Mapping {
  const cleared = mapping.tables.map((table) =>
    table.table === from?.table ? without(table, header, from.field) : table,
  );
  if (to === null) return { ...mapping, tables: cleared.filter(readsAnything) };
  const index = cleared.findIndex(({ table }) => table === to.table);
  const rule = ruleOf(header, to);
  const tables =
    index < 0
      ? [...cleared, { table: to.table, columns: { [to.field]: rule } }]
      : cleared.map((table, at) =>
          at === index ? { ...table, columns: { ...table.columns, [to.field]: rule } } : table,
        );
  return { ...mapping, tables: tables.filter(readsAnything) };
}

function without(table: TableMapping, header: string, field: string): TableMapping {
  const columns = Object.entries(table.columns).filter(
    ([name, rule]) => !(name === field && "from" in rule && rule.from === header),
  );
  return { ...table, columns: Object.fromEntries(columns) };
}

const readsAnything = ({ columns, members = [], list }: TableMapping): boolean =>
  list !== undefined ||
  [columns, ...members].some((rules) => Object.values(rules).some((rule) => headersOf(rule).length > 0));

function ruleOf(header: string, { table, field, unit }: ColumnTarget): ColumnRule {
  const words = vocabularyOf(table, field);
  const own = unitOfField(table, field);
  const differs = unit !== null && own !== null && unitOf(unit) !== unitOf(own);
  return { from: header, ...(differs ? { unit } : {}), ...(words === undefined ? {} : { words }) };
}

function unitOfField(table: TableName, name: string): string | null {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  return fields.find((field) => field.name === name)?.unit ?? null;
}
