import { Router } from "express";
import {
  type Answer,
  type AnswerState,
  type AnswersListReply,
  type AnswersPreview,
  type AnswersReply,
  type AuditReply,
  type AuditRowsReply,
  applyAnswers,
  type Scope,
} from "../../analysis/index.ts";
import { auditAnswers } from "../contracts/audit.ts";
import { answerQuery, answersQuery, auditQuery, auditRowsQuery, type ScopeQuery } from "../contracts/questions.ts";
import { statesOf } from "../storage/correctionsOf.ts";
import type { Store } from "../storage/store.ts";
import type { ShopData } from "../work/shopData.ts";
import type { StudyPool } from "../work/studyPool.ts";
import type { AuditPageRequest } from "../work/tasks.ts";
import { scopeOf } from "./definitionOf.ts";
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
    const asked = { rule: null, table: null, column: null, scope: null, offset: 0, limit: usualPage, ...page };
    return { dataHash: now.dataHash, page: await pool.audit(asked, open.length === 0, now, stop) };
  }

  /** All answers with what became of them, in the order decided. */
  async function states(): Promise<{ readonly dataHash: string; readonly answers: readonly AnswerState[] }> {
    const shop = await store.loadShop();
    return { dataHash: shop.dataHash, answers: statesOf(shop, shop.answers) };
  }

  /** What answers would change, without storing any. */
  async function preview(given: readonly Answer[], stop: AbortSignal): Promise<AnswersPreview> {
    const [shop, now, open] = await Promise.all([store.loadShop(), data.current(), data.openQuestions()]);
    const all = [...shop.answers, ...given];
    const { records: after, stale, superseded, refused, hanging } = applyAnswers(shop.raw, all);
    const lost = new Set([...stale, ...refused.map(({ answer }) => answer)]);
    const overruled = new Set(superseded);
    const standing = all.filter((answer) => !overruled.has(answer));
    const taken = given.filter((answer) => !lost.has(answer));
    const effect = await pool.answersEffect({ after, standing, given: taken, derivable: open.length === 0 }, now, stop);
    const left = hanging.filter(({ answer }) => given.includes(answer));
    return {
      dataHash: now.dataHash,
      ...effect,
      notApplied: given.length - taken.length,
      hanging: left.reduce((sum, { rows }) => sum + rows.length, 0),
    };
  }

  router.get("/audit", async (request, response) => {
    const scope = narrowed(parseQuery(auditQuery, request.query));
    const [{ dataHash, page }, { answers }] = await Promise.all([
      audit({ scope, limit: 1 }, hangUp(response)),
      states(),
    ]);
    const reply: AuditReply = {
      dataHash,
      open: page.total > 0,
      total: page.total,
      lives: page.lives,
      groups: page.groups,
      stale: staleOnes(answers),
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
      ...rest
    } = parseQuery(auditRowsQuery, request.query);
    const asked = { rule, table, column, scope: narrowed(rest), offset, limit };
    const { dataHash, page } = await audit(asked, hangUp(response));
    const reply: AuditRowsReply = { dataHash, offset, ...page.rows };
    response.json(reply);
  });

  router.get("/audit/answers", async (request, response) => {
    const { offset = 0, limit = usualPage, state, contains } = parseQuery(answersQuery, request.query);
    const wanted = (await states()).answers.filter(
      (each) =>
        (state === undefined || each.state === state) && (contains === undefined || holds(each.answer, contains)),
    );
    const latest = wanted.reverse().slice(offset, offset + limit);
    const reply: AnswersListReply = { total: wanted.length, offset, answers: latest };
    response.json(reply);
  });

  router.post("/audit/answers", async (request, response) => {
    const { answers } = parseBody(auditAnswers, request.body);
    // What is left out of a JSON body is "not written down".
    const given = answers.map((answer) => ({ ...answer, was: answer.was ?? null, becomes: answer.becomes ?? null }));
    if (parseQuery(answerQuery, request.query).preview === "true") {
      const when = clock().toISOString();
      response.json(
        await preview(
          given.map((answer) => ({ ...answer, who: "", when })),
          hangUp(response),
        ),
      );
      return;
    }
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

/** Of each cell the latest answer, where it no longer applies: one given anew since then stands in its place. */
function staleOnes(answers: readonly AnswerState[]): readonly Answer[] {
  const latest = new Map(
    answers.map((each) => [JSON.stringify([each.answer.table, each.answer.key, each.answer.column]), each]),
  );
  return [...latest.values()].flatMap(({ answer, state }) =>
    state === "stale" && answer.verdict !== "reopen" ? [answer] : [],
  );
}

/** Null where the scope is the whole fleet: doubts that no life rests on belong to it too. */
function narrowed(query: ScopeQuery): Scope | null {
  const scope = scopeOf(query);
  return Object.values(scope).every((value) => value === null) ? null : scope;
}

function holds({ who, why, rule, verdict, key }: Answer, text: string): boolean {
  const sought = text.toLowerCase();
  return [who, why, rule ?? "", verdict, key].some((part) => part.toLowerCase().includes(sought));
}
