import { type FieldDescriptor, type TableName, tableDescriptors } from "./descriptor.ts";
import type { ColumnRule, Mapping } from "./mapping.ts";

/** A canonical field that a column feeds. */
export interface ColumnUse {
  readonly table: TableName;
  readonly field: string;
  /** Unit in which the column is read; null where the field has none. */
  readonly unit: string | null;
}

/** The headers a rule reads. */
export function headersOf(rule: ColumnRule): readonly string[] {
  if ("from" in rule) return [rule.from];
  if ("pattern" in rule) return [rule.of];
  if ("split" in rule) return [rule.split];
  return "join" in rule ? rule.join.filter((header) => header !== "{line}") : [];
}

/** What each header of a mapping becomes, each field once. */
export function usesByHeader(mapping: Mapping): ReadonlyMap<string, readonly ColumnUse[]> {
  const uses = new Map<string, ColumnUse[]>();
  for (const { table, columns, members = [], list } of [...mapping.tables, ...mapping.addRows]) {
    const rules = [columns, ...members].flatMap((each) => Object.entries(each));
    if (list !== undefined) rules.push([list.field, { from: list.from }]);
    for (const [field, rule] of rules) {
      const known = (tableDescriptors[table].fields as readonly FieldDescriptor[]).find((each) => each.name === field);
      for (const header of headersOf(rule)) {
        const already = uses.get(header) ?? [];
        if (!already.some((use) => use.table === table && use.field === field)) {
          already.push({ table, field, unit: known?.unit === undefined ? null : (rule.unit ?? known.unit) });
        }
        uses.set(header, already);
      }
    }
  }
  return uses;
}
