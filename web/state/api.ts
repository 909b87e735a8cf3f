/** The server's routes by name, with the types that analysis owns. */
import type {
  AnswersReply,
  AuditAnswers,
  BatchReply,
  BuildPracticeResult,
  FleetResult,
  ItemLifeResult,
  Life,
  LivesReply,
  RedressIntervalResult,
  RowHistoryReply,
  RowRef,
  RowsReply,
  StateReply,
  StoredBatch,
  StudyProgress,
  ToolHistoryResult,
  UndoReply,
  WhatFailsResult,
} from "../../analysis/index.ts";
import { writeDecision } from "./decision.ts";
import { type Place, usualSettings, writeChoice, writeGoal, writeQuestion } from "./place.ts";
import { failureIn, postJson, RequestFailure, requestJson } from "./request.ts";
import { eventsOf } from "./serverEvents.ts";

export const fetchState = (signal?: AbortSignal): Promise<StateReply> =>
  requestJson("/api/state", signal === undefined ? {} : { signal });

/** The addresses of the three questions; also what a reply is known by. */
export const itemLifePath = (place: Place): string => `/api/item-life?${writeQuestion(place)}`;
export const redressIntervalPath = (place: Place): string => `/api/redress-interval?${decisionQuestion(place)}`;
export const whatFailsPath = ({ scope, settings: { statedAge, confidence, missingHours, openAudit } }: Place): string =>
  `/api/what-fails?${writeQuestion({ scope, settings: { ...usualSettings, statedAge, confidence, missingHours, openAudit } })}`;
export const toolHistoryPath = (serial: string): string => `/api/tool-history/${encodeURIComponent(serial)}`;

/** What is looked at closely goes along; how other questions read a life changes nothing here. */
export function buildPracticePath({ scope, settings, closely, settle }: Place): string {
  const { confidence, missingHours, openAudit } = settings;
  const parameters = writeQuestion({ scope, settings: { ...usualSettings, confidence, missingHours, openAudit } });
  for (const [name, value] of [...writeChoice(closely), ...writeGoal(settle)]) parameters.set(name, value);
  return `/api/build-practice?${parameters}`;
}

/** The result of a long question, told how far it is meanwhile. */
async function fetchWatched<T>(
  path: string,
  signal: AbortSignal,
  onProgress: (progress: StudyProgress) => void = () => undefined,
): Promise<T> {
  for await (const { event, data } of eventsOf(path, signal)) {
    if (event === "progress") onProgress(JSON.parse(data) as StudyProgress);
    if (event === "result") return JSON.parse(data) as T;
    if (event === "error") throw failureIn(JSON.parse(data) as unknown);
  }
  throw new RequestFailure("The answer broke off before it was whole. Try again.", 0, "broken-off");
}

export const fetchBuildPractice = fetchWatched<BuildPracticeResult>;
export const fetchFleet = fetchWatched<FleetResult>;
export const fetchRedressInterval = fetchWatched<RedressIntervalResult>;

export const fetchItemLife = (path: string, signal: AbortSignal): Promise<ItemLifeResult> =>
  requestJson(path, { signal });
export const fetchWhatFails = (path: string, signal: AbortSignal): Promise<WhatFailsResult> =>
  requestJson(path, { signal });
export const fetchToolHistory = (path: string, signal: AbortSignal): Promise<ToolHistoryResult> =>
  requestJson(path, { signal });

export const fleetPath = (place: Place): string => `/api/fleet?${decisionQuestion(place)}`;

/** Scope, settings, costs and allowed risk. A stated age is no part of a decision. */
function decisionQuestion(place: Place): URLSearchParams {
  const parameters = writeQuestion({
    scope: place.scope,
    settings: { ...place.settings, statedAge: null, law: usualSettings.law },
  });
  if (place.decision !== undefined) writeDecision(place.decision, parameters);
  return parameters;
}

/** Few enough for one address; a server takes about 16 kB of it. */
const atOnce = 60;

/** Lives by id, all of them, in as many requests as their addresses need. */
export async function fetchLives(study: string, ids: readonly string[], signal: AbortSignal): Promise<readonly Life[]> {
  const replies = await Promise.all(
    partsOf(ids).map((part) => {
      const parameters = new URLSearchParams([["study", study], ...part.map((id) => ["id", id])]);
      return requestJson<LivesReply>(`/api/lives?${parameters}`, { signal });
    }),
  );
  return replies.flatMap(({ lives }) => lives);
}

/** What became of a row, or of one cell of it. */
export const fetchRowHistory = (
  { table, key }: RowRef,
  field: string | null,
  signal: AbortSignal,
): Promise<RowHistoryReply> => {
  const asked = new URLSearchParams({ ref: `${table}:${key}`, ...(field === null ? {} : { field }) });
  return requestJson(`/api/rows/history?${asked}`, { signal });
};

/** Rows in the order asked for, and those that are not stored. */
export async function fetchRows(rows: readonly RowRef[], signal: AbortSignal): Promise<RowsReply> {
  const replies = await Promise.all(
    partsOf(rows).map((part) =>
      requestJson<RowsReply>(
        `/api/rows?${new URLSearchParams(part.map(({ table, key }) => ["ref", `${table}:${key}`]))}`,
        { signal },
      ),
    ),
  );
  return { rows: replies.flatMap((reply) => reply.rows), missing: replies.flatMap((reply) => reply.missing) };
}

function partsOf<T>(all: readonly T[]): readonly (readonly T[])[] {
  return Array.from({ length: Math.ceil(all.length / atOnce) }, (_, part) =>
    all.slice(part * atOnce, (part + 1) * atOnce),
  );
}

export const fetchBatches = (signal: AbortSignal): Promise<readonly StoredBatch[]> =>
  requestJson("/api/batches", { signal });

export const fetchBatch = (batch: number, signal: AbortSignal): Promise<BatchReply> =>
  requestJson(`/api/batches/${batch}`, { signal });

/** What taking a drop back would change; nothing is changed by asking. */
export const previewUndo = (batch: number): Promise<UndoReply> =>
  postJson(`/api/batches/${batch}/undo?preview=true`, {});

export const undoBatch = (batch: number, who: string): Promise<UndoReply> =>
  postJson(`/api/batches/${batch}/undo`, { who });

/** Rows that should not count, whatever they say: answers of their own, with who and why. */
export function excludeRows(rows: readonly RowRef[], who: string, why: string): Promise<AnswersReply> {
  const body: AuditAnswers = {
    who,
    answers: rows.map(({ table, key }) => ({
      table,
      key,
      column: null,
      was: null,
      becomes: null,
      verdict: "exclude",
      rule: null,
      why,
    })),
  };
  return postJson("/api/audit/answers", body);
}
