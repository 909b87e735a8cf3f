import { cellName, isBlank, type Mapping, type StoredRow, type TableName } from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";

/** Cells in which a shop writes words instead of a number, and where the words are a practice of their own. */
const columns: Partial<Record<TableName, readonly string[]>> = {
  joints: ["final_torque_Nm", "make_break_cycles"],
  fitted_items: ["hardness_shoreA", "gap_mm"],
};

/**
 * Words in cells where a number belongs ("good tight"), by `cellName`: read from the cells as written under the headers that a
 * remembered mapping reads the number from.
 */
export async function numberCellTexts(
  store: Pick<Store, "rowsOf" | "rememberedMappings">,
): Promise<Record<string, string>> {
  const mappings = await store.rememberedMappings();
  const texts: Record<string, string> = {};
  for (const [table, names] of Object.entries(columns) as [TableName, readonly string[]][]) {
    const rows = await store.rowsOf(table);
    for (const column of names) {
      const headers = headersOf(mappings, table, column);
      for (const row of rows) {
        const text = textIn(row, column, headers);
        if (text !== undefined) texts[cellName(table, row.key, column)] = text;
      }
    }
  }
  return texts;
}

function textIn({ values, asWritten }: StoredRow, column: string, headers: ReadonlySet<string>): string | undefined {
  if (values[column] != null) return undefined;
  return Object.entries(asWritten).find(([header, text]) => headers.has(header) && !isBlank(text))?.[1];
}

function headersOf(mappings: readonly Mapping[], table: TableName, column: string): ReadonlySet<string> {
  const rules = mappings.flatMap((mapping) =>
    mapping.tables
      .filter((one) => one.table === table)
      .flatMap((one) => [one.columns, ...(one.members ?? [])].flatMap((group) => group[column] ?? [])),
  );
  return new Set(rules.flatMap((rule) => ("from" in rule ? [rule.from] : [])));
}
