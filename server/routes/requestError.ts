import type { RequestErrorCode, RequestErrorFacts } from "../../analysis/index.ts";

/** A request that is refused, as a code with facts; `sayRequestError` words it. */
export class RequestError extends Error {
  override readonly name = "RequestError";
  constructor(
    readonly code: RequestErrorCode,
    readonly facts: RequestErrorFacts = {},
  ) {
    super(`${code} ${JSON.stringify(facts)}`);
  }
}
