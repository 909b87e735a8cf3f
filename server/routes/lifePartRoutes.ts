import { type Request, type Response, Router } from "express";
import type { LifePartQuestion, StudyDefinition } from "../../analysis/index.ts";
import { groupsQuery, lifePartQuery } from "../contracts/questions.ts";
import { usualDropLimits } from "../intake/drops.ts";
import type { StudyPool } from "../work/studyPool.ts";
import type { StudyData } from "../work/tasks.ts";
import { definitionOf, scopeOf } from "./definitionOf.ts";
import { errorReply } from "./errorReply.ts";
import { hangUp } from "./hangUp.ts";
import { parseQuery } from "./parse.ts";

export interface LifePartRoutesOptions {
  /** The records, once nothing is open that would keep lives from being derived. */
  readonly answered: () => Promise<StudyData>;
  readonly pool: StudyPool;
}

/**
 * Long parts of the answer about an item's life. As JSON once they are there; as text/event-stream with "progress" events on the way
 * and the part in the end. A reader who goes away stops the work.
 */
export function lifePartRoutes({ answered, pool }: LifePartRoutesOptions): Router {
  const router = Router();

  async function reply(
    definition: StudyDefinition,
    part: LifePartQuestion,
    request: Request,
    response: Response,
  ): Promise<void> {
    const data = await answered();
    const gone = hangUp(response);
    if (request.accepts(["json", "text/event-stream"]) !== "text/event-stream") {
      response.json(await pool.part(definition, part, data, gone));
      return;
    }
    const send = (event: "progress" | "part" | "error", body: object): void => {
      if (response.destroyed || response.writableEnded) return;
      if (!response.headersSent)
        response.status(200).set({ "content-type": "text/event-stream", "x-accel-buffering": "no" });
      response.write(`event: ${event}\ndata: ${JSON.stringify(body)}\n\n`);
    };
    send("progress", { share: 0 });
    try {
      send("part", await pool.part(definition, part, data, gone, (share) => send("progress", { share })));
    } catch (error) {
      send("error", errorReply(error, usualDropLimits).body);
    }
    response.end();
  }

  for (const kind of ["checks", "looks"] as const) {
    router.get(`/item-life/${kind}`, async (request, response) => {
      const query = parseQuery(lifePartQuery, request.query);
      await reply(definitionOf("item life", scopeOf(query), query), { kind }, request, response);
    });
  }

  router.get("/item-life/groups", async (request, response) => {
    const query = parseQuery(groupsQuery, request.query);
    const { by, first = null, second = null } = query;
    const question = { kind: "groups", by, first, second } as const;
    await reply(definitionOf("item life", scopeOf(query), query), question, request, response);
  });

  return router;
}
