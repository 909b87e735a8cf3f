/** The server's routes by name, with the types that analysis owns. */
import type {
  DropAnswers,
  DropPreview,
  ItemLifeResult,
  Life,
  LivesReply,
  RowRef,
  StateReply,
  StoredBatch,
  StoredRow,
  ToolHistoryResult,
  WhatFailsResult,
} from "../../analysis/index.ts";
import { type Place, writeQuestion } from "./place.ts";
import { postJson, requestJson } from "./request.ts";

export const fetchState = (signal?: AbortSignal): Promise<StateReply> =>
  requestJson("/api/state", signal === undefined ? {} : { signal });

/** The addresses of the three questions; also what a reply is known by. */
export const itemLifePath = (place: Place): string => `/api/item-life?${writeQuestion(place)}`;
export const whatFailsPath = (place: Place): string => `/api/what-fails?${writeQuestion(place)}`;
export const toolHistoryPath = (serial: string): string => `/api/tool-history/${encodeURIComponent(serial)}`;

export const fetchItemLife = (path: string, signal: AbortSignal): Promise<ItemLifeResult> =>
  requestJson(path, { signal });
export const fetchWhatFails = (path: string, signal: AbortSignal): Promise<WhatFailsResult> =>
  requestJson(path, { signal });
export const fetchToolHistory = (path: string, signal: AbortSignal): Promise<ToolHistoryResult> =>
  requestJson(path, { signal });

/** Few enough for one address; a server takes about 16 kB of it. */
export const livesAtOnce = 60;
const rowsAtOnce = 60;

export const fetchLives = async (
  study: string,
  ids: readonly string[],
  signal: AbortSignal,
): Promise<readonly Life[]> => {
  const parameters = new URLSearchParams([["study", study], ...ids.slice(0, livesAtOnce).map((id) => ["id", id])]);
  const reply = await requestJson<LivesReply>(`/api/lives?${parameters}`, { signal });
  return reply.lives;
};

/** Rows in the order asked for, in as many requests as their addresses need. */
export async function fetchRows(rows: readonly RowRef[], signal: AbortSignal): Promise<readonly StoredRow[]> {
  const parts: RowRef[][] = [];
  for (let start = 0; start < rows.length; start += rowsAtOnce) parts.push(rows.slice(start, start + rowsAtOnce));
  const replies = await Promise.all(
    parts.map((part) =>
      requestJson<readonly StoredRow[]>(
        `/api/rows?${new URLSearchParams(part.map(({ table, key }) => ["ref", `${table}:${key}`]))}`,
        { signal },
      ),
    ),
  );
  return replies.flat();
}

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
