import type { Response } from "express";

/** A signal that fires when the reader goes away before the answer was sent. */
export function hangUp(response: Response): AbortSignal {
  const controller = new AbortController();
  response.once("close", () => {
    if (!response.writableFinished) controller.abort();
  });
  return controller.signal;
}
