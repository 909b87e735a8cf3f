import { type Request, type Response, Router } from "express";
import {
  AnalysisError,
  type Life,
  type LivesReply,
  type StudyDefinition,
  type StudyProgress,
  type StudyResult,
} from "../../analysis/index.ts";
import {
  buildPracticeQuery,
  fleetQuery,
  itemLifeQuery,
  livesQuery,
  redressIntervalQuery,
  toolHistoryQuery,
  whatFailsQuery,
} from "../contracts/questions.ts";
import { studyDefinition } from "../contracts/results.ts";
import { RecentlyUsed } from "../work/recentlyUsed.ts";
import type { ShopData } from "../work/shopData.ts";
import type { StudyPool } from "../work/studyPool.ts";
import { fleetTable, redressIntervalTable } from "./decisionTables.ts";
import { buildPracticeDefinition, decisionOf, definitionOf, scopeOf } from "./definitionOf.ts";
import { type ErrorLimits, errorReply } from "./errorReply.ts";
import { hangUp } from "./hangUp.ts";
import { lifePartRoutes } from "./lifePartRoutes.ts";
import { parseBody, parseQuery } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { sendCsv } from "./sendCsv.ts";
import { itemLifeTable, livesTable, practiceTable, whatFailsTable } from "./tables.ts";

export interface QuestionRoutesOptions {
  readonly data: ShopData;
  readonly pool: StudyPool;
  readonly limits: ErrorLimits;
}

/** Questions and their answers. Nothing is computed here: a question goes to the pool, its answer comes back as it is. */
export function questionRoutes({ data, pool, limits }: QuestionRoutesOptions): Router {
  const router = Router();
  /** Definitions of answered studies by hash, so that a reader of a result can ask for its lives. */
  const definitions = new RecentlyUsed<StudyDefinition>(1_000);

  /** Nothing is derived while a question about what the sheets do not say is open. */
  async function answeredData() {
    const open = await data.openQuestions();
    if (open[0] !== undefined)
      throw new AnalysisError("restoration-unanswered", { question: open[0], open: open.length });
    return data.current();
  }

  async function answer(
    definition: StudyDefinition,
    response: Response,
    onProgress?: (progress: StudyProgress) => void,
  ): Promise<StudyResult> {
    const result = await pool.study(definition, await answeredData(), hangUp(response), onProgress);
    definitions.set(result.provenance.studyHash, definition);
    return result;
  }

  router.get("/item-life", async (request, response) => {
    const query = parseQuery(itemLifeQuery, request.query);
    const result = await answer(definitionOf("item life", scopeOf(query), query), response);
    if (query.format === "csv" && result.kind === "item life")
      sendCsv(response, `item-life-${query.table ?? "curve"}`, itemLifeTable(result, query.table ?? "curve"));
    else response.json(result);
  });

  router.use(lifePartRoutes({ answered: answeredData, pool }));

  router.get("/what-fails", async (request, response) => {
    const query = parseQuery(whatFailsQuery, request.query);
    const result = await answer(definitionOf("what fails", scopeOf(query), query), response);
    if (query.format === "csv" && result.kind === "what fails") sendCsv(response, "what-fails", whatFailsTable(result));
    else response.json(result);
  });

  router.get("/redress-interval", async (request, response) => {
    const query = parseQuery(redressIntervalQuery, request.query);
    const definition = {
      ...definitionOf("redress interval", scopeOf(query), query),
      decision: decisionOf(query),
    };
    if (query.format !== "csv") return replyWithProgress(definition, request, response);
    const result = await answer(definition, response);
    if (result.kind === "redress interval")
      sendCsv(
        response,
        `redress-interval-${query.table ?? "curve"}`,
        redressIntervalTable(result, query.table ?? "curve"),
      );
  });

  router.get("/fleet", async (request, response) => {
    const query = parseQuery(fleetQuery, request.query);
    const definition = {
      ...definitionOf("fleet", scopeOf(query), query),
      decision: decisionOf(query),
      cutoff: query.asof ?? null,
    };
    if (query.format !== "csv") return replyWithProgress(definition, request, response);
    const result = await answer(definition, response);
    if (result.kind === "fleet") sendCsv(response, "fleet", fleetTable(result));
  });

  router.get("/build-practice", async (request, response) => {
    const query = parseQuery(buildPracticeQuery, request.query);
    const definition = buildPracticeDefinition(scopeOf(query), query);
    if (query.format !== "csv") return replyWithProgress(definition, request, response);
    const result = await answer(definition, response);
    if (result.kind === "build practice") sendCsv(response, "build-practice", practiceTable(result));
  });

  /** The result as JSON; for whoever accepts server-sent events how far the study is, then its result or why there is none. */
  async function replyWithProgress(definition: StudyDefinition, request: Request, response: Response): Promise<void> {
    if (request.accepts(["json", "text/event-stream"]) !== "text/event-stream") {
      response.json(await answer(definition, response));
      return;
    }
    const send = (event: "progress" | "result" | "error", value: object) => {
      if (!response.headersSent)
        response.status(200).set({ "content-type": "text/event-stream", "x-accel-buffering": "no" });
      response.write(`event: ${event}\ndata: ${JSON.stringify(value)}\n\n`);
    };
    send("progress", { share: 0, doing: "reading the records" });
    try {
      send("result", await answer(definition, response, (progress) => send("progress", progress)));
    } catch (error) {
      send("error", errorReply(error, limits).body);
    }
    response.end();
  }

  for (const address of ["/tools/:serial", "/tool-history/:serial"] as const) {
    router.get(address, async (request, response) => {
      const query = parseQuery(toolHistoryQuery, request.query);
      const scope = { ...scopeOf({}), serial: request.params.serial };
      response.json(await answer(definitionOf("tool history", scope, query), response));
    });
  }

  router.post("/studies", async (request, response) => {
    response.json(await answer(parseBody(studyDefinition, request.body), response));
  });

  router.get("/lives", async (request, response) => {
    const query = parseQuery(livesQuery, request.query);
    const definition =
      (query.study === undefined ? undefined : definitions.get(query.study)) ??
      definitionOf("item life", scopeOf(query), query);
    const { offset = 0, limit = 100, kind = null } = query;
    const ids = query.id ?? null;
    const page = await pool.lives(definition, { ids, kind, offset, limit }, await answeredData(), hangUp(response));
    refuseMissing(ids, page.lives);
    if (query.format === "csv") return sendCsv(response, "lives", livesTable(page.lives));
    const reply: LivesReply = { total: page.total, offset, lives: page.lives };
    response.json(reply);
  });

  return router;
}

function refuseMissing(ids: readonly string[] | null, lives: readonly Life[]): void {
  const found = new Set(lives.map((life) => life.id));
  const missing = ids?.find((id) => !found.has(id));
  if (missing !== undefined) throw new RequestError("life-not-found", { life: missing });
}
