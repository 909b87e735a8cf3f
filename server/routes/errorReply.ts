import { MulterError } from "multer";
import {
  AnalysisError,
  type AnalysisErrorCode,
  type ErrorReply,
  type RequestErrorCode,
  sayError,
  sayRequestError,
} from "../../analysis/index.ts";
import { StorageError } from "../storage/storageError.ts";
import type { StorageErrorCode } from "../storage/types.ts";
import { RequestError } from "./requestError.ts";

const requestStatus: Readonly<Record<RequestErrorCode, number>> = {
  "bad-parameter": 400,
  "bad-body": 400,
  "no-such-address": 404,
  "life-not-found": 404,
  "batch-not-found": 404,
  "statement-not-found": 404,
  "row-not-found": 404,
  "drop-not-found": 404,
  "form-not-ready": 422,
  "drop-not-ready": 409,
  "drop-being-stored": 409,
  "drop-being-read": 409,
  "drop-cancelled": 409,
  "drop-too-slow": 413,
  "drop-too-much": 413,
  "sheet-not-found": 404,
  "nothing-dropped": 400,
  "upload-refused": 400,
  "file-too-large": 413,
  "too-many-files": 413,
  "drop-too-large": 413,
  "initials-missing": 400,
  "host-refused": 403,
  "cross-site-refused": 403,
  "too-many-requests": 429,
  "too-many-drops": 409,
  "study-too-long": 503,
  "study-cancelled": 503,
  "shutting-down": 503,
  unexpected: 500,
};

/** What the engine refuses is a request that cannot be answered as it stands: 422, unless said otherwise. */
const analysisStatus: Partial<Readonly<Record<AnalysisErrorCode, number>>> = {
  "restoration-unanswered": 409,
  "tool-not-found": 404,
  "run-not-found": 404,
  "practice-not-found": 404,
  "bad-setting": 400,
  "bad-date": 400,
  "bad-mapping": 400,
  "sheet-too-large": 413,
};

/** The store cannot serve just now: 503, unless it is what was sent that cannot be stored. */
const storageStatus: Partial<Readonly<Record<StorageErrorCode, number>>> = {
  "bad-batch": 422,
  "row-not-storable": 422,
  "no-such-batch": 404,
  "nothing-to-undo": 409,
  "no-such-statement": 404,
  "statement-step": 409,
  "bad-answer": 422,
  "answer-outdated": 409,
  "disk-full": 507,
  "write-failed": 507,
  "journal-file-missing": 500,
  "journal-file-damaged": 500,
};

export interface ErrorLimits {
  readonly fileBytes: number;
  readonly files: number;
}

/** Status and body for whatever a route threw. An error nobody expected says nothing of its inside. */
export function errorReply(
  thrown: unknown,
  limits: ErrorLimits,
): { readonly status: number; readonly body: ErrorReply } {
  if (thrown instanceof AnalysisError) {
    const { code, facts } = thrown;
    return { status: analysisStatus[code] ?? 422, body: { error: { code, message: sayError(thrown), facts } } };
  }
  if (thrown instanceof StorageError) {
    const { code, facts, message } = thrown;
    return { status: storageStatus[code] ?? 503, body: { error: { code, message, facts } } };
  }
  const { code, facts } = thrown instanceof RequestError ? thrown : translated(thrown, limits);
  return { status: requestStatus[code], body: { error: { code, message: sayRequestError(code, facts), facts } } };
}

/** Errors of the libraries that read a request. */
function translated(thrown: unknown, limits: ErrorLimits): RequestError {
  if (thrown instanceof MulterError) {
    if (thrown.code === "LIMIT_FILE_SIZE")
      return new RequestError("file-too-large", { megabytes: Math.round(limits.fileBytes / 1e6) });
    if (thrown.code === "LIMIT_FILE_COUNT") return new RequestError("too-many-files", { files: limits.files });
    return new RequestError("upload-refused", {
      reason: `${thrown.message}${thrown.field ? `: ${thrown.field}` : ""}`,
    });
  }
  if (thrown instanceof Error && "type" in thrown && typeof thrown.type === "string") {
    if (thrown.type === "entity.too.large") return new RequestError("drop-too-large", { megabytes: 5 });
    if (thrown.type === "entity.parse.failed")
      return new RequestError("bad-body", { place: "", problem: "it is not JSON" });
    if (/^(encoding|charset|entity|request|parameters|querystring)\./.test(thrown.type))
      return new RequestError("bad-body", { place: "", problem: thrown.message });
  }
  // Thrown by the upload reader for a body that is not well-formed multipart.
  if (thrown instanceof Error && /multipart|boundary|unexpected end of form|malformed part/i.test(thrown.message))
    return new RequestError("upload-refused", { reason: thrown.message });
  if (thrown instanceof URIError)
    return new RequestError("bad-parameter", { parameter: "address", value: null, expected: "" });
  return new RequestError("unexpected");
}
