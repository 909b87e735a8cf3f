/** Rows written in a form, on their way to the records: looked at first, then stored as one batch. */
import type { FormEntry, FormPreview, StoredBatch, TableName } from "../../analysis/index.ts";
import { postJson, requestJson } from "./request.ts";

export const previewRows = (rows: readonly FormEntry[], signal: AbortSignal): Promise<FormPreview> =>
  postJson("/api/forms/preview", { rows }, signal);

export const storeRows = (rows: readonly FormEntry[], who: string, why: string): Promise<StoredBatch> =>
  postJson("/api/forms", { rows, who, ...(why === "" ? {} : { why }) });

export const fetchTable = (
  table: TableName,
  signal: AbortSignal,
): Promise<readonly Readonly<Record<string, unknown>>[]> => requestJson(`/api/forms/${table}`, { signal });
