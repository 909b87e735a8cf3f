import type { Normal } from "../contracts/sameType.ts";
import type { z } from "../contracts/zod.ts";
import { RequestError } from "./requestError.ts";

/**
 * Query parameters checked against their contract.
 *
 * Errors  "bad-parameter" naming the first parameter that is wrong, repeated or not known.
 */
export function parseQuery<S extends z.ZodType>(contract: S, query: Readonly<Record<string, unknown>>): z.infer<S> {
  const parsed = contract.safeParse(query);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  const unknown = issue?.code === "unrecognized_keys" ? issue.keys[0] : undefined;
  const parameter = unknown ?? String(issue?.path[0] ?? "");
  const value = query[parameter];
  const single = typeof value === "string" ? value.slice(0, 200) : null;
  throw new RequestError("bad-parameter", {
    parameter: parameter.slice(0, 200),
    value: single,
    expected: unknown === undefined ? (issue?.message ?? "") : "unknown",
  });
}

/**
 * A JSON body checked against its contract.
 *
 * Errors  "bad-body" naming the place of the first fault.
 */
export function parseBody<S extends z.ZodType>(contract: S, body: unknown): Normal<z.infer<S>> {
  const parsed = contract.safeParse(body);
  // JSON has no undefined: what is left out is absent.
  if (parsed.success) return parsed.data as Normal<z.infer<S>>;
  const issue = parsed.error.issues[0];
  throw new RequestError("bad-body", {
    place: issue?.path.map(String).join(".") ?? "",
    problem: (issue?.message ?? "").slice(0, 300),
  });
}
