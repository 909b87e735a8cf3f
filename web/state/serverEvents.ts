/** Server-sent events (WHATWG HTML, section 9.2) over fetch: unlike `EventSource` it can say why an address refuses. */
import { failureOf, unanswered } from "./request.ts";

export interface ServerEvent {
  readonly event: string;
  readonly data: string;
}

/** @param body  Sent as JSON by POST; without it the address is read by GET. */
export async function* eventsOf(path: string, signal: AbortSignal, body?: object): AsyncGenerator<ServerEvent> {
  const sent =
    body === undefined
      ? { headers: { accept: "text/event-stream" } }
      : {
          method: "POST",
          headers: { accept: "text/event-stream", "content-type": "application/json" },
          body: JSON.stringify(body),
        };
  const reply = await fetch(path, { ...sent, signal }).catch(unanswered);
  if (!reply.ok || reply.body === null) throw await failureOf(reply);
  const decoder = new TextDecoder();
  const reader = reply.body.getReader();
  let text = "";
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      text += decoder.decode(value, { stream: true });
      const parts = text.split("\n\n");
      text = parts.pop() ?? "";
      for (const part of parts) yield eventOf(part);
    }
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

/** One block of lines: the last `event`, and all `data` joined by line breaks. */
export function eventOf(block: string): ServerEvent {
  const valuesOf = (name: string) =>
    block
      .split("\n")
      .filter((line) => line.startsWith(`${name}:`))
      .map((line) => line.slice(name.length + 1).replace(/^ /, ""));
  return { event: valuesOf("event").at(-1) ?? "message", data: valuesOf("data").join("\n") };
}
