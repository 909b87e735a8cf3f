import { Router } from "express";
import { undoQuery } from "../contracts/questions.ts";
import { setupEntry } from "../contracts/setup.ts";
import { bringSetup, setupOf } from "../intake/setup.ts";
import type { Store } from "../storage/store.ts";
import { parseBody, parseQuery } from "./parse.ts";
import { whoOf } from "./who.ts";

export interface SetupRoutesOptions {
  readonly store: Store;
  readonly clock: () => Date;
  /** Called when a setup file was stored. */
  readonly stored: () => void;
}

/** Words, item list, modes, compounds and mappings: out as one file, and in from one. */
export function setupRoutes({ store, clock, stored }: SetupRoutesOptions): Router {
  const router = Router();

  router.get("/setup", async (_request, response) => {
    response.attachment(`afterrun-setup-${clock().toISOString().slice(0, 10)}.json`).json(await setupOf(store));
  });

  router.post("/setup", async (request, response) => {
    const { who: _who, ...bundle } = parseBody(setupEntry, request.body);
    const looks = parseQuery(undoQuery, request.query).preview === "true";
    const who = looks ? null : whoOf(request);
    const reply = await bringSetup({ bundle, store, when: clock(), who });
    if (reply.stored !== null) stored();
    response.status(reply.stored === null ? 200 : 201).json(reply);
  });

  return router;
}
