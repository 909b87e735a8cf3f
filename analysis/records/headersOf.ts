import type { TableName } from "./descriptor.ts";
import type { ColumnRule, Mapping, TableMapping } from "./mapping.ts";

/** Where a value stands on the sheet: the header of its column, and the unit that the column is read in. */
export interface WrittenUnder {
  readonly header: string;
  /** Null where the column is read in the field's own unit, or holds no number. */
  readonly unit: string | null;
}

/**
 * The header on the sheet of each canonical field of a row, by the mapping that fits the row's cells best. A field that
 * the sheet does not hold in a column of its own (a constant, a joined key) is left out; so is all of it where no mapping
 * knows the row's headers.
 */
export function headersOf(
  { table, asWritten }: { readonly table: TableName; readonly asWritten: Readonly<Record<string, string>> },
  mappings: readonly Mapping[],
): Readonly<Record<string, WrittenUnder>> {
  let best: Readonly<Record<string, WrittenUnder>> = {};
  for (const each of mappings.flatMap((mapping) => mapping.tables).filter((mapped) => mapped.table === table))
    for (const columns of variantsOf(each)) {
      const found = Object.entries(columns).flatMap(([field, rule]) => {
        const header = headerOf(rule);
        return header !== null && Object.hasOwn(asWritten, header)
          ? [[field, { header, unit: rule.unit ?? null }] as const]
          : [];
      });
      if (found.length > Object.keys(best).length) best = Object.fromEntries(found);
    }
  return best;
}

const variantsOf = ({ columns, members }: TableMapping): readonly Readonly<Record<string, ColumnRule>>[] =>
  members === undefined ? [columns] : members.map((member) => ({ ...columns, ...member }));

function headerOf(rule: ColumnRule): string | null {
  if ("from" in rule) return rule.from;
  if ("pattern" in rule) return rule.of;
  return "split" in rule ? rule.split : null;
}
