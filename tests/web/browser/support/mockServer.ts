/** Serves the built page with replies that a test chooses, under the headers of the real server. */

import { mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { build } from "vite";
import type { StateReply, StudyResult } from "../../../../analysis/index.ts";
import { fleetFixture, redressIntervalFixture } from "../../../support/chartFixtures/decisions.ts";
import {
  buildPracticeFixture,
  itemLifeFixture,
  toolHistoryFixture,
  whatFailsFixture,
} from "../../../support/chartFixtures.ts";
import { mockBatch, mockDrop, mockLife, mockProgress, mockRow, mockState } from "./mockData.ts";
import { mockForms } from "./mockForms.ts";

export interface MockServer {
  readonly address: string;
  /** Replies by path (without query), instead of the usual ones; changed freely between pages. */
  readonly replies: Map<string, (url: URL) => Reply | Promise<Reply>>;
  readonly asked: string[];
  /** Bodies that came as JSON, with the path they came to. */
  readonly sent: { readonly path: string; readonly body: unknown }[];
  readonly close: () => Promise<void>;
}
export interface Reply {
  readonly status?: number;
  readonly body: unknown;
  /** Sent one after the other as server-sent events, instead of the body. */
  readonly events?: Iterable<MockEvent> | AsyncIterable<MockEvent>;
}
export interface MockEvent {
  readonly event: "progress" | "preview" | "result" | "error";
  readonly data: unknown;
}

/** The policy that `server/app.ts` sends: the page must work under it. */
const policy =
  "default-src 'none';script-src 'self';style-src 'self' 'unsafe-inline';img-src 'self' data: blob:;font-src 'self';connect-src 'self';form-action 'self';base-uri 'none';frame-ancestors 'none'";
const types: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".woff2": "font/woff2",
  ".svg": "image/svg+xml",
};

export async function startMockServer(): Promise<MockServer> {
  const folder = await mkdtemp(join(tmpdir(), "afterrun-page-"));
  await build({ configFile: "vite.config.ts", logLevel: "error", build: { outDir: folder, emptyOutDir: true } });
  const replies: MockServer["replies"] = new Map();
  const asked: string[] = [];
  const sent: MockServer["sent"] = [];
  const server = createServer((request, response) => {
    const url = new URL(request.url ?? "/", "http://localhost");
    const work = url.pathname.startsWith("/api/") ? answer(request, response, url) : sendFile(response, folder, url);
    work.catch((cause: unknown) => response.writeHead(500).end(String(cause)));
  });
  async function answer(request: IncomingMessage, response: ServerResponse, url: URL): Promise<void> {
    const bytes: Buffer[] = [];
    for await (const part of request) bytes.push(Buffer.from(part));
    if (request.headers["content-type"]?.startsWith("application/json") === true)
      sent.push({ path: url.pathname, body: JSON.parse(Buffer.concat(bytes).toString("utf8")) });
    asked.push(`${request.method} ${url.pathname}${url.search}`);
    const forms = replies.has(url.pathname) ? null : mockForms(url.pathname, sent.at(-1)?.body);
    const chosen = replies.get(url.pathname) ?? usual(url.pathname);
    const { status = 200, body, events }: Reply = forms ?? (await chosen(url));
    if (events !== undefined || (request.headers.accept === "text/event-stream" && status === 200)) {
      response.writeHead(200, { "content-type": "text/event-stream" });
      for await (const { event, data } of events ?? [{ event: "preview", data: body }])
        response.write(`event: ${event}\ndata: ${JSON.stringify(data)}\n\n`);
      response.end();
      return;
    }
    response.writeHead(status, { "content-type": "application/json" }).end(JSON.stringify(body));
  }
  await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
  const bound = server.address();
  const port = typeof bound === "object" && bound !== null ? bound.port : 0;
  return {
    address: `http://127.0.0.1:${port}`,
    replies,
    asked,
    sent,
    close: async () => {
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      await rm(folder, { recursive: true, force: true });
    },
  };
}

function usual(path: string): (url: URL) => Reply {
  const result = (of: StudyResult) => () => ({ body: of });
  if (path === "/api/state") return () => ({ body: mockState() satisfies StateReply });
  if (path === "/api/item-life") return result(itemLifeFixture());
  if (path === "/api/redress-interval") return inSteps(redressIntervalFixture(), "playing policies run by run");
  if (path === "/api/fleet") return inSteps(fleetFixture(), "playing the year ahead");
  if (path === "/api/build-practice")
    return inSteps(buildPracticeFixture(), "joint, back-off: Final torque over design torque");
  if (path === "/api/what-fails") return result(whatFailsFixture());
  if (path.startsWith("/api/tool-history/")) return result(toolHistoryFixture());
  if (path === "/api/lives")
    return (url) => ({ body: { total: 1, offset: 0, lives: url.searchParams.getAll("id").map(mockLife) } });
  if (path === "/api/rows")
    return (url) => ({ body: { rows: url.searchParams.getAll("ref").map(refOf).map(mockRow), missing: [] } });
  if (path === "/api/batches") return () => ({ body: [mockBatch] });
  if (path === "/api/mappings") return () => ({ body: [] });
  if (path === "/api/drops/d1/store") return () => ({ body: mockBatch });
  if (path === "/api/drops/d1/answers") return () => ({ body: mockDrop(true) });
  if (path === "/api/drops" || path === "/api/drops/paste") return () => ({ status: 202, body: mockProgress });
  if (path.startsWith("/api/drops")) return () => ({ body: mockDrop(false) });
  return () => ({
    status: 404,
    body: { error: { code: "no-such-address", message: `Nothing at ${path}.`, facts: {} } },
  });
}

/** How far it is, then the result, as the real server sends it. */
function inSteps(result: StudyResult, doing: string): () => Reply {
  return () => ({
    body: result,
    events: [
      { event: "progress", data: { share: 0.4, doing } },
      { event: "result", data: result },
    ],
  });
}

function refOf(text: string) {
  const cut = text.indexOf(":");
  return { table: text.slice(0, cut) as Parameters<typeof mockRow>[0]["table"], key: text.slice(cut + 1) };
}

async function sendFile(response: ServerResponse, folder: string, { pathname }: URL): Promise<void> {
  const wanted = extname(pathname) === "" ? "/index.html" : normalize(pathname);
  const bytes = await readFile(join(folder, wanted));
  response
    .writeHead(200, {
      "content-type": types[extname(wanted)] ?? "application/octet-stream",
      "content-security-policy": policy,
    })
    .end(bytes);
}
