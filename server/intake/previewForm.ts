import type { FormPreview } from "../../analysis/index.ts";
import type { Store } from "../storage/store.ts";
import type { FormSheets } from "./formSheets.ts";

/** What would become of each row of a form; nothing is stored. */
export async function previewForm({ sheets, problems }: FormSheets, store: Store): Promise<FormPreview> {
  const compared = await store.compareBatch({ sheets, setup: [] });
  const changes = new Map<string, FormPreview["rows"][number]["cells"][number][]>();
  const placeOf = ({ table, key }: { readonly table: string; readonly key: string }) => JSON.stringify([table, key]);
  for (const { row, field, was, becomes } of compared.sheets.flatMap((sheet) => sheet.changes)) {
    const cells = changes.get(placeOf(row)) ?? [];
    changes.set(placeOf(row), [...cells, { field, was, becomes }]);
  }
  const written = sheets.flatMap(({ mapped }) => mapped.lines.flatMap((line) => line.rows));
  const known = new Set((await store.rowsByRef(written)).map(placeOf));
  return {
    rows: written.map(({ table, key }) => {
      const cells = changes.get(placeOf({ table, key })) ?? [];
      const isKnown = known.has(placeOf({ table, key }));
      return {
        row: { table, key },
        what: !isKnown ? "new" : cells.length > 0 ? "changed" : "unchanged",
        cells,
      };
    }),
    problems,
    ready: written.length > 0 && problems.every(({ severity }) => severity !== "error"),
  };
}
