/** Statements of the server: previews with how far they are, stored versions, and the addresses of their files. */
import type {
  ErrorReply,
  StatementDefinition,
  StatementEntry,
  StatementPreview,
  StatementProgress,
  StatementsReply,
} from "../../analysis/index.ts";
import { postJson, RequestFailure, requestJson } from "./request.ts";
import { eventsOf } from "./serverEvents.ts";

/** What a statement is handed over as, with the words of its link. */
export const fileFormats = [
  { format: "pdf", words: "PDF" },
  { format: "html", words: "Web page" },
  { format: "xlsx", words: "Workbook" },
  { format: "pptx", words: "Slides" },
  { format: "zip", words: "Tables and pictures" },
] as const;

export const fetchStatements = (signal: AbortSignal): Promise<StatementsReply> =>
  requestJson<StatementsReply>("/api/statements", { signal });

/** Makes a preview, telling how far it is. */
export async function previewStatement(
  definition: StatementDefinition,
  signal: AbortSignal,
  onProgress: (progress: StatementProgress) => void,
): Promise<StatementPreview> {
  for await (const { event, data } of eventsOf("/api/statements/preview", signal, definition)) {
    if (event === "progress") onProgress(JSON.parse(data));
    if (event === "preview") return JSON.parse(data);
    if (event === "error") {
      const { error }: ErrorReply = JSON.parse(data);
      throw new RequestFailure(error.message, 0, error.code, error.facts);
    }
  }
  throw new RequestFailure("The server stopped before the statement was ready. Try again.", 0, "no-answer");
}

export const previewFile = (id: string, file: string): string =>
  `/api/statements/preview/${encodeURIComponent(id)}/${file}`;

export const storedFile = (
  { statement, version }: Pick<StatementEntry, "statement" | "version">,
  file: string,
): string => `/api/statements/${statement}/${version}/${file}`;

export const draftStatement = (
  definition: StatementDefinition,
  statement: number | null,
  who: string,
): Promise<StatementEntry> => postJson<StatementEntry>("/api/statements", { definition, statement, who });

export const advanceStatement = (
  { statement, version }: Pick<StatementEntry, "statement" | "version">,
  action: "approve" | "issue",
  who: string,
): Promise<StatementEntry> => postJson<StatementEntry>(`/api/statements/${statement}/${version}/${action}`, { who });
