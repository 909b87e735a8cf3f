import { Router } from "express";
import { dropAnswers } from "../contracts/api.ts";
import { createDrops, type DropLimits } from "../intake/drops.ts";
import type { Store } from "../storage/store.ts";
import { parseBody } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { fileNames, readFiles, refuseTooLarge } from "./upload.ts";
import { whoOf } from "./who.ts";

export interface DropRoutesOptions {
  readonly store: Store;
  readonly clock: () => Date;
  readonly limits: DropLimits;
  /** Called when a batch was stored. */
  readonly stored: () => void;
}

/** Drops: files come in, what they would become is shown and confirmed, then all of it is stored as one batch. */
export function dropRoutes({ store, clock, limits, stored }: DropRoutesOptions): Router {
  const router = Router();
  const drops = createDrops({ store, clock, limits });

  router.post("/drops", refuseTooLarge(limits), readFiles(limits), async (request, response) => {
    const received = Array.isArray(request.files) ? request.files : [];
    if (received.length === 0) throw new RequestError("nothing-dropped");
    const names = fileNames(received.map((file) => file.originalname));
    const files = received.map(({ buffer }, index) => ({
      file: names[index] ?? "sheet",
      bytes: new Uint8Array(buffer),
    }));
    const preview = await drops.start(files);
    response.status(201).location(`/api/drops/${preview.id}`).json(preview);
  });

  router.get("/drops/:id", async (request, response) => {
    response.json(await drops.preview(request.params.id));
  });

  router.delete("/drops/:id", (request, response) => {
    drops.takeBack(request.params.id);
    response.status(204).end();
  });

  router.post("/drops/:id/answers", async (request, response) => {
    response.json(await drops.answer(request.params.id, parseBody(dropAnswers, request.body)));
  });

  router.post("/drops/:id/store", async (request, response) => {
    const batch = await drops.store(request.params.id, whoOf(request));
    stored();
    response.status(201).json(batch);
  });

  return router;
}
