/** What the records leave in doubt, and what somebody decided about it. */
import type {
  Answer,
  AnswersListReply,
  AnswersPreview,
  AnswersReply,
  AuditReply,
  AuditRow,
  AuditRowsReply,
} from "../../analysis/index.ts";
import { type DoubtKind, type Place, writeScope } from "./place.ts";
import { postJson, requestJson } from "./request.ts";

export type Doubt = AuditRow & { readonly lives: number | null };
export type GivenAnswer = Omit<Answer, "who" | "when">;

export const fetchAudit = (scope: Place["scope"], signal: AbortSignal): Promise<AuditReply> =>
  requestJson(`/api/audit?${writeScope(scope)}`, { signal });

export function fetchDoubts(
  scope: Place["scope"],
  { rule, table, column }: DoubtKind,
  page: { readonly offset: number; readonly limit: number },
  signal?: AbortSignal,
): Promise<AuditRowsReply> {
  const parameters = writeScope(scope);
  const asked = { rule, table, column: column ?? "none", offset: page.offset, limit: page.limit };
  for (const [name, value] of Object.entries(asked)) parameters.set(name, String(value));
  return requestJson(`/api/audit/rows?${parameters}`, signal === undefined ? {} : { signal });
}

/** The most that one reply holds. */
const largestPage = 1_000;

/** Every open doubt of one kind, in as many requests as that takes. */
export async function fetchAllDoubts(scope: Place["scope"], kind: DoubtKind): Promise<readonly Doubt[]> {
  const found: Doubt[] = [];
  for (;;) {
    const { rows, total } = await fetchDoubts(scope, kind, { offset: found.length, limit: largestPage });
    found.push(...rows);
    if (rows.length === 0 || found.length >= total) return found;
  }
}

export function fetchAnswers(
  query: { readonly contains: string; readonly offset: number; readonly limit: number },
  signal: AbortSignal,
): Promise<AnswersListReply> {
  const parameters = new URLSearchParams({ offset: String(query.offset), limit: String(query.limit) });
  if (query.contains !== "") parameters.set("contains", query.contains);
  return requestJson(`/api/audit/answers?${parameters}`, { signal });
}

/** What answers would change; nothing is stored by asking. */
export const previewAnswers = (answers: readonly GivenAnswer[], signal: AbortSignal): Promise<AnswersPreview> =>
  postJson("/api/audit/answers?preview=true", { answers }, signal);

export const giveAnswers = (answers: readonly GivenAnswer[], who: string): Promise<AnswersReply> =>
  postJson("/api/audit/answers", { who, answers });
