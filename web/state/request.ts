/** Requests to the server. Every failure becomes one `RequestFailure` whose message can be shown as it stands. */
import type { ErrorReply } from "../../analysis/index.ts";

export class RequestFailure extends Error {
  override readonly name = "RequestFailure";
  constructor(
    message: string,
    readonly status: number,
    readonly code: string,
    readonly facts: Readonly<Record<string, unknown>> = {},
  ) {
    super(message);
  }
}

export async function requestJson<T>(path: string, options: RequestInit = {}): Promise<T> {
  const headers = { accept: "application/json", ...options.headers };
  const reply = await fetch(path, { ...options, headers }).catch(unanswered);
  if (reply.ok) return (await reply.json()) as T;
  throw await failureOf(reply);
}

export const postJson = <T>(path: string, body: unknown, signal?: AbortSignal): Promise<T> =>
  requestJson<T>(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
    ...(signal === undefined ? {} : { signal }),
  });

/** What becomes of a request that nobody answered. A request taken back stays what it is. */
export function unanswered(cause: unknown): never {
  if (cause instanceof DOMException && cause.name === "AbortError") throw cause;
  throw new RequestFailure(
    "Afterrun does not answer. Check that it is still running on this machine, then try again.",
    0,
    "no-answer",
  );
}

export async function failureOf(reply: Response): Promise<RequestFailure> {
  return failureIn(await reply.json().catch(() => null), reply.status);
}

/** What an error reply says; `status` 0 where it came as an event. */
export function failureIn(body: unknown, status = 0): RequestFailure {
  if (isErrorReply(body)) return new RequestFailure(body.error.message, status, body.error.code, body.error.facts);
  return new RequestFailure(`The server answered ${status} without saying why. Try again.`, status, "no-reason");
}

function isErrorReply(body: unknown): body is ErrorReply {
  if (typeof body !== "object" || body === null || !("error" in body)) return false;
  const { error } = body;
  return typeof error === "object" && error !== null && "message" in error && typeof error.message === "string";
}
