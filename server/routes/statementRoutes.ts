import { type Request, type Response, Router } from "express";
import {
  AnalysisError,
  contentHash,
  type StatementDefinition,
  type StatementPreview,
  type StatementResult,
  type StatementsReply,
  statementDocument,
  statementHash,
} from "../../analysis/index.ts";
import { statementDefinition, statementDraftBody } from "../contracts/statements.ts";
import type { DropLimits } from "../intake/drops.ts";
import { previewIssue, type StatementIssue } from "../statement/issue.ts";
import { type MakeStatementOptions, makeStatement } from "../statement/makeStatement.ts";
import { changesSince, entryOf, issueOf, previousOf, statementBook } from "../statement/statementBook.ts";
import type { StatementVersion } from "../storage/statementVersions.ts";
import type { Store } from "../storage/store.ts";
import { RecentlyUsed } from "../work/recentlyUsed.ts";
import type { ShopData } from "../work/shopData.ts";
import type { StudyPool } from "../work/studyPool.ts";
import type { StudyData } from "../work/tasks.ts";
import { errorReply } from "./errorReply.ts";
import { hangUp } from "./hangUp.ts";
import { parseBody } from "./parse.ts";
import { RequestError } from "./requestError.ts";
import { whoOf } from "./who.ts";

export interface StatementRoutesOptions {
  readonly store: Store;
  readonly data: ShopData;
  readonly pool: StudyPool;
  readonly clock: () => Date;
  readonly limits: DropLimits;
}

/** Previews kept so that their files can be asked for. */
const KEPT = 20;
/** Runs offered for a single incident. */
const MOST_INCIDENTS = 200;

/** Statements: made, looked at, stored as drafts, approved, issued, and every file of them. */
export function statementRoutes({ store, data, pool, clock, limits }: StatementRoutesOptions): Router {
  const router = Router();
  const book = statementBook(store);
  const previews = new RecentlyUsed<{ readonly result: StatementResult; readonly issue: StatementIssue }>(KEPT);

  async function answeredData(): Promise<StudyData> {
    const open = await data.openQuestions();
    if (open[0] !== undefined)
      throw new AnalysisError("restoration-unanswered", { question: open[0], open: open.length });
    return data.current();
  }

  async function make(
    definition: StatementDefinition,
    more: Pick<MakeStatementOptions, "signal" | "onProgress">,
  ): Promise<{ readonly result: StatementResult; readonly last: StatementVersion | null }> {
    const [shop, aliases, last] = await Promise.all([answeredData(), book.aliases(), book.last(definition)]);
    const result = await makeStatement(definition, { pool, data: shop, aliases, previous: previousOf(last), ...more });
    return { result, last };
  }

  async function preview(
    definition: StatementDefinition,
    more: Pick<MakeStatementOptions, "signal" | "onProgress">,
  ): Promise<StatementPreview> {
    const { result, last } = await make(definition, more);
    const id = contentHash([statementHash(definition), result.contentHash]);
    previews.set(id, { result, issue: { ...previewIssue, changes: last === null ? [] : changesSince(last, result) } });
    return { id, definition, contentHash: result.contentHash, document: statementDocument(result) };
  }

  async function send(
    request: Request,
    response: Response,
    { result, issue, name }: { result: StatementResult; issue: StatementIssue; name: string },
  ): Promise<void> {
    const wanted = String(request.params.file);
    const file = await pool.statementFile({ statement: result, issue, name: wanted }, hangUp(response));
    if (file === null) throw new RequestError("statement-not-found", { what: "file" });
    // A page may stand in a frame of our own; it runs nothing and fetches nothing.
    if (file.type.startsWith("text/html")) {
      response.set("content-security-policy", pagePolicy).set("x-frame-options", "SAMEORIGIN");
    } else response.attachment(`${name}-${wanted}`);
    response.type(file.type).send(Buffer.from(file.bytes));
  }

  router.get("/statements", async (_request, response) => {
    const [versions, shop] = await Promise.all([book.all(), data.current()]);
    const runs = shop.records.runs ?? [];
    const reply: StatementsReply = {
      statements: [...versions].reverse().map(entryOf),
      wells: [...new Set(runs.flatMap(({ well }) => (well == null ? [] : [well])))].sort(),
      incidents: runs
        .filter(({ pulled_because: why }) => why === "tool failure" || why === "lost in hole")
        .map(({ run, serial, in_on, out_on, customer }) => ({
          run,
          serial,
          on: in_on ?? out_on,
          customer: customer ?? null,
        }))
        .sort((a, b) => (a.on < b.on ? 1 : -1))
        .slice(0, MOST_INCIDENTS),
    };
    response.json(reply);
  });

  router.post("/statements/preview", async (request, response) => {
    const definition = parseBody(statementDefinition, request.body);
    const signal = hangUp(response);
    if (request.accepts(["json", "text/event-stream"]) !== "text/event-stream") {
      response.json(await preview(definition, { signal }));
      return;
    }
    response.status(200).set({ "content-type": "text/event-stream", "x-accel-buffering": "no" });
    const tell = (event: "progress" | "preview" | "error", value: object) =>
      response.write(`event: ${event}\ndata: ${JSON.stringify(value)}\n\n`);
    try {
      tell("preview", await preview(definition, { signal, onProgress: (progress) => tell("progress", progress) }));
    } catch (error) {
      tell("error", errorReply(error, limits).body);
    }
    response.end();
  });

  router.get("/statements/preview/:id/:file", async (request, response) => {
    const known = previews.get(request.params.id);
    if (known === undefined) throw new RequestError("statement-not-found", { what: "preview" });
    await send(request, response, { ...known, name: "preview" });
  });

  router.post("/statements", async (request, response) => {
    const who = whoOf(request);
    const { definition, statement = null } = parseBody(statementDraftBody, request.body);
    const { result } = await make(definition, { signal: hangUp(response) });
    const version = await store.draftStatement({ statement, definition, result }, who, clock().toISOString());
    response.status(201).json(entryOf(version));
  });

  for (const [action, step] of [
    ["approve", "approved"],
    ["issue", "issued"],
  ] as const) {
    router.post(`/statements/:statement/:version/${action}`, async (request, response) => {
      const version = await store.advanceStatement(
        step,
        placeOf(request.params),
        whoOf(request),
        clock().toISOString(),
      );
      response.status(201).json(entryOf(version));
    });
  }

  router.get("/statements/:statement/:version/:file", async (request, response) => {
    const { statement, of } = placeOf(request.params);
    const version = await book.find(statement, of);
    if (version === null) throw new RequestError("statement-not-found", { what: "statement" });
    const issue = issueOf(version, await book.last(version.definition, version));
    await send(request, response, { result: version.result, issue, name: `statement-${statement}-v${of}` });
  });

  return router;
}

const pagePolicy =
  "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; frame-ancestors 'self'; base-uri 'none'; form-action 'none'";

/** Errors  "statement-not-found" where the address holds no number. */
function placeOf({ statement, version }: Readonly<Record<string, string>>): { statement: number; of: number } {
  const [number, of] = [Number(statement), Number(version)];
  if (!Number.isInteger(number) || !Number.isInteger(of))
    throw new RequestError("statement-not-found", { what: "statement" });
  return { statement: number, of };
}
