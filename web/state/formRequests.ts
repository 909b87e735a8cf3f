/** Rows written in a form, on their way to the records: looked at first, then stored as one batch. */
import type { Problem, RowRef, StoredBatch, TableName } from "../../analysis/index.ts";
import { postJson, requestJson } from "./request.ts";

export interface FormEntry {
  readonly table: TableName;
  readonly values: Readonly<Record<string, unknown>>;
}

/** What would become of each row; nothing is stored by asking. */
export interface FormPreview {
  readonly rows: readonly {
    readonly row: RowRef;
    readonly what: "new" | "changed" | "unchanged";
    readonly cells: readonly { readonly field: string; readonly was: unknown; readonly becomes: unknown }[];
  }[];
  readonly problems: readonly Problem[];
  readonly ready: boolean;
}

export const previewRows = (rows: readonly FormEntry[], signal: AbortSignal): Promise<FormPreview> =>
  postJson("/api/forms/preview", { rows }, signal);

export const storeRows = (rows: readonly FormEntry[], who: string): Promise<StoredBatch> =>
  postJson("/api/forms", { rows, who });

export const fetchTable = (
  table: TableName,
  signal: AbortSignal,
): Promise<readonly Readonly<Record<string, unknown>>[]> => requestJson(`/api/forms/${table}`, { signal });
