/** The server's routes by name, with the types that analysis owns. */
import type {
  DropAnswers,
  DropPreview,
  ItemLifeResult,
  Life,
  RowRef,
  StateReply,
  StoredBatch,
  StoredRow,
  StudyDefinition,
  ToolHistoryResult,
  WhatFailsResult,
} from "../../analysis/index.ts";
import { postJson, requestJson } from "./request.ts";

interface ResultOf {
  readonly "item life": ItemLifeResult;
  readonly "what fails": WhatFailsResult;
  readonly "tool history": ToolHistoryResult;
}

export const fetchState = (signal?: AbortSignal): Promise<StateReply> =>
  requestJson("/api/state", signal === undefined ? {} : { signal });

export const runQuestion = <Q extends StudyDefinition["question"]>(
  definition: StudyDefinition & { readonly question: Q },
  signal: AbortSignal,
): Promise<ResultOf[Q]> => postJson("/api/studies", definition, signal);

export const fetchLives = (study: string, ids: readonly string[], signal: AbortSignal): Promise<readonly Life[]> =>
  requestJson(`/api/lives?${new URLSearchParams([["study", study], ...ids.map((id) => ["id", id])])}`, { signal });

export const fetchRows = (rows: readonly RowRef[], signal: AbortSignal): Promise<readonly StoredRow[]> =>
  requestJson(`/api/rows?${new URLSearchParams(rows.map(({ table, key }) => ["ref", `${table}:${key}`]))}`, { signal });

export const fetchBatches = (signal: AbortSignal): Promise<readonly StoredBatch[]> =>
  requestJson("/api/batches", { signal });

export function startDrop(files: readonly File[]): Promise<DropPreview> {
  const body = new FormData();
  for (const file of files) body.append("files", file, file.name);
  return requestJson("/api/drops", { method: "POST", body });
}

export const fetchDrop = (id: string, signal: AbortSignal): Promise<DropPreview> =>
  requestJson(`/api/drops/${encodeURIComponent(id)}`, { signal });

export const answerDrop = (id: string, answers: DropAnswers): Promise<DropPreview> =>
  postJson(`/api/drops/${encodeURIComponent(id)}/answers`, answers);

export const storeDrop = (id: string, who: string): Promise<StoredBatch> =>
  postJson(`/api/drops/${encodeURIComponent(id)}/store`, { who });
