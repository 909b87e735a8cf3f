import { Router } from "express";
import type { UndoReply } from "../../analysis/index.ts";
import { undoQuery } from "../contracts/questions.ts";
import type { Store } from "../storage/store.ts";
import { parseQuery } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { whoOf } from "./who.ts";

export interface UndoRoutesOptions {
  readonly store: Store;
  readonly clock: () => Date;
  /** Called when a batch was taken back. */
  readonly stored: () => void;
}

/** Taking a batch back: first what it would change, then as a batch of its own. */
export function undoRoutes({ store, clock, stored }: UndoRoutesOptions): Router {
  const router = Router();

  router.post("/batches/:id/undo", async (request, response) => {
    const { preview } = parseQuery(undoQuery, request.query);
    const { id } = request.params;
    if (!/^[1-9]\d{0,8}$/.test(id)) throw new RequestError("batch-not-found", { batch: id.slice(0, 40) });
    if (preview === "true") {
      const reply: UndoReply = { ...(await store.previewUndo(Number(id))), stored: null };
      response.json(reply);
      return;
    }
    const reply: UndoReply = await store.undoBatch(Number(id), whoOf(request), clock().toISOString());
    stored();
    response.status(201).json(reply);
  });

  return router;
}
