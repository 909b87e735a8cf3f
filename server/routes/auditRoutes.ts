import { Router } from "express";
import type { AnswerState, AnswersListReply, AnswersReply, AuditReply, AuditRowsReply } from "../../analysis/index.ts";
import { auditAnswers } from "../contracts/audit.ts";
import { answersQuery, auditRowsQuery } from "../contracts/questions.ts";
import { statesOf } from "../storage/correctionsOf.ts";
import type { Store } from "../storage/store.ts";
import type { ShopData } from "../work/shopData.ts";
import type { StudyPool } from "../work/studyPool.ts";
import type { AuditPageRequest } from "../work/tasks.ts";
import { hangUp } from "./hangUp.ts";
import { parseBody, parseQuery } from "./parse.ts";
import { whoOf } from "./who.ts";

export interface AuditRoutesOptions {
  readonly store: Store;
  readonly data: ShopData;
  readonly pool: StudyPool;
  readonly clock: () => Date;
}

const usualPage = 100;

/** What the records leave in doubt, and what somebody decided about it. The audit itself runs in the pool. */
export function auditRoutes({ store, data, pool, clock }: AuditRoutesOptions): Router {
  const router = Router();

  async function audit(page: Partial<AuditPageRequest>, stop: AbortSignal) {
    const [now, open] = await Promise.all([data.current(), data.openQuestions()]);
    const asked = { rule: null, table: null, column: null, offset: 0, limit: usualPage, ...page };
    return { dataHash: now.dataHash, page: await pool.audit(asked, open.length === 0, now, stop) };
  }

  /** All answers with what became of them, in the order decided. */
  async function states(): Promise<{ readonly dataHash: string; readonly answers: readonly AnswerState[] }> {
    const shop = await store.loadShop();
    return { dataHash: shop.dataHash, answers: statesOf(shop, shop.answers) };
  }

  router.get("/audit", async (_request, response) => {
    const [{ dataHash, page }, { answers }] = await Promise.all([audit({ limit: 1 }, hangUp(response)), states()]);
    const reply: AuditReply = {
      dataHash,
      open: page.total > 0,
      total: page.total,
      groups: page.groups,
      stale: answers.flatMap(({ answer, state }) => (state === "stale" ? [answer] : [])),
      answers: answers.length,
    };
    response.json(reply);
  });

  router.get("/audit/rows", async (request, response) => {
    const {
      rule = null,
      table = null,
      column = null,
      offset = 0,
      limit = usualPage,
    } = parseQuery(auditRowsQuery, request.query);
    const { dataHash, page } = await audit({ rule, table, column, offset, limit }, hangUp(response));
    const reply: AuditRowsReply = { dataHash, offset, ...page.rows };
    response.json(reply);
  });

  router.get("/audit/answers", async (request, response) => {
    const { offset = 0, limit = usualPage } = parseQuery(answersQuery, request.query);
    const { answers } = await states();
    const latest = [...answers].reverse().slice(offset, offset + limit);
    const reply: AnswersListReply = { total: answers.length, offset, answers: latest };
    response.json(reply);
  });

  router.post("/audit/answers", async (request, response) => {
    const { answers } = parseBody(auditAnswers, request.body);
    // What is left out of a JSON body is "not written down".
    const given = answers.map((answer) => ({ ...answer, was: answer.was ?? null, becomes: answer.becomes ?? null }));
    const stored = await store.addAnswers(given, whoOf(request), clock().toISOString());
    data.changed();
    const now = await states();
    const reply: AnswersReply = {
      stored: stored.length,
      dataHash: now.dataHash,
      answers: now.answers.filter(({ answer }) => stored.includes(answer)),
    };
    response.status(201).json(reply);
  });

  return router;
}
