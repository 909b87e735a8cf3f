/** Drops over HTTP: sent, watched while they are read, answered, taken back. */
import type {
  DropAnswers,
  DropPreview,
  DropProgress,
  Mapping,
  PastedSheet,
  StoredBatch,
} from "../../analysis/index.ts";
import { postJson, RequestFailure, requestJson } from "./request.ts";
import { eventsOf } from "./serverEvents.ts";

const addressOf = (id: string): string => `/api/drops/${encodeURIComponent(id)}`;
/** The server answers at once with where the reading stands; its address tells from then on. */
const inBackground = { prefer: "respond-async" } as const;

export function sendFiles(files: readonly File[], signal: AbortSignal): Promise<DropProgress> {
  const body = new FormData();
  for (const file of files) body.append("files", file, file.name);
  return requestJson("/api/drops", { method: "POST", body, headers: inBackground, signal });
}

export const sendPasted = (sheet: PastedSheet, signal: AbortSignal): Promise<DropProgress> =>
  requestJson("/api/drops/paste", {
    method: "POST",
    headers: { ...inBackground, "content-type": "application/json" },
    body: JSON.stringify(sheet),
    signal,
  });

/**
 * Where a drop stands until it is read, then what it would store.
 *
 * Errors  "drop-not-found"; what the reader refuses, in the server's words; "no-answer" where the connection ends early.
 */
export async function watchDrop(
  id: string,
  onProgress: (progress: DropProgress) => void,
  signal: AbortSignal,
): Promise<DropPreview> {
  for await (const { event, data } of eventsOf(addressOf(id), signal)) {
    if (event === "progress") onProgress(JSON.parse(data) as DropProgress);
    if (event === "preview") return JSON.parse(data) as DropPreview;
    if (event === "error") {
      const { error } = JSON.parse(data) as { readonly error: { readonly code: string; readonly message: string } };
      throw new RequestFailure(error.message, 200, error.code);
    }
  }
  throw new RequestFailure(
    "Afterrun stopped answering while it read the drop. Check that it is still running, then look again.",
    0,
    "no-answer",
  );
}

export const answerDrop = (id: string, answers: DropAnswers): Promise<DropPreview> =>
  postJson(`${addressOf(id)}/answers`, answers);

export const storeDrop = (id: string, who: string): Promise<StoredBatch> => postJson(`${addressOf(id)}/store`, { who });

/** Forgets a drop and stops its reading. One that is gone already is no trouble. */
export async function takeDropBack(id: string): Promise<void> {
  const reply = await fetch(addressOf(id), { method: "DELETE", headers: { accept: "application/json" } });
  if (!reply.ok && reply.status !== 404)
    throw new RequestFailure("The drop could not be taken back.", reply.status, "");
}

/** Mappings confirmed so far, the newest version of each shape of sheet. */
export const fetchMappings = (signal: AbortSignal): Promise<readonly Mapping[]> =>
  requestJson("/api/mappings", { signal });

/** The lines of a sheet that are set aside, in the shape in which they can be repaired and dropped again. */
export const setAsideAddress = (id: string, file: string, tab: string | null): string =>
  `${addressOf(id)}/set-aside.csv?${sheetQuery(file, tab)}`;

/** The same of a stored batch. */
export const repairAddress = (batch: number, file: string, tab: string | null): string =>
  `/api/batches/${batch}/repair.csv?${sheetQuery(file, tab)}`;

const sheetQuery = (file: string, tab: string | null): string =>
  String(new URLSearchParams(tab === null ? { file } : { file, tab }));
