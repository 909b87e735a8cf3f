import { existsSync } from "node:fs";
import { join } from "node:path";
import compression from "compression";
import express, { type ErrorRequestHandler, type Express } from "express";
import { rateLimit } from "express-rate-limit";
import helmet from "helmet";
import type { Logger } from "pino";
import { pinoHttp } from "pino-http";
import { openApiDocument } from "./contracts/openApi.ts";
import { type DropLimits, usualDropLimits } from "./intake/drops.ts";
import { auditRoutes } from "./routes/auditRoutes.ts";
import { backupRoutes } from "./routes/backupRoutes.ts";
import { dropRoutes } from "./routes/dropRoutes.ts";
import { errorReply } from "./routes/errorReply.ts";
import { formRoutes } from "./routes/formRoutes.ts";
import { onlyKnownHosts, onlyOwnPages } from "./routes/guard.ts";
import { mappingRoutes } from "./routes/mappingRoutes.ts";
import { questionRoutes } from "./routes/questionRoutes.ts";
import { recordRoutes } from "./routes/recordRoutes.ts";
import { RequestError } from "./routes/requestError.ts";
import { setupRoutes } from "./routes/setupRoutes.ts";
import { statementRoutes } from "./routes/statementRoutes.ts";
import { undoRoutes } from "./routes/undoRoutes.ts";
import type { Store } from "./storage/store.ts";
import { createDropPool, type DropPool } from "./work/dropPool.ts";
import { shopData } from "./work/shopData.ts";
import type { StudyPool } from "./work/studyPool.ts";

export interface AppOptions {
  readonly store: Store;
  readonly pool: StudyPool;
  /** Reads drops; whoever brings it closes it. */
  readonly dropPool?: DropPool;
  readonly clock: () => Date;
  readonly logger: Logger;
  /** Who stored the invented sample fleet; a store of nothing else is marked as sample data. */
  readonly sampleName?: string;
  /** Folder of the built page. */
  readonly webFolder?: string;
  /** Host names beyond loopback. */
  readonly hosts?: readonly string[];
  readonly limits?: DropLimits;
  /** Reads the records at once, so that the first reader waits less. */
  readonly warm?: boolean;
  /** Requests a minute from one address. */
  readonly requestsPerMinute?: number;
}

/** The whole HTTP side: guards, routes, the built page, and one place where errors become replies. */
export function createApp({
  store,
  pool,
  dropPool = createDropPool(),
  clock,
  logger,
  sampleName,
  webFolder,
  hosts = [],
  limits = usualDropLimits,
  warm = false,
  requestsPerMinute = 3_000,
}: AppOptions): Express {
  const app = express();
  const data = shopData(store, sampleName, (current) => pool.choices(current));
  // Whoever asks is told what went wrong: a failed read is not kept.
  if (warm) data.choices().catch(() => undefined);
  let description: object | undefined;

  /** Replies to questions that were taken back: nothing went wrong. */
  const nobodyWaits = new WeakSet<object>();

  app.disable("x-powered-by");
  app.use(
    pinoHttp({
      logger,
      // Method, path and status only: no headers, no query (it may name a customer), no bodies.
      serializers: {
        req: (request: { method: string; url: string }) => ({
          method: request.method,
          path: request.url.split("?")[0],
        }),
        res: (response: { statusCode: number }) => ({ status: response.statusCode }),
      },
      customLogLevel: (_request, response) =>
        response.statusCode < 500 ? "debug" : nobodyWaits.has(response) ? "info" : "error",
    }),
  );
  app.use(helmet(headers));
  app.use(onlyKnownHosts(hosts));
  app.use(
    compression({
      filter: (request, response) =>
        !String(response.getHeader("content-type")).startsWith("text/event-stream") &&
        compression.filter(request, response),
    }),
  );

  const api = express.Router();
  api.use(
    rateLimit({
      windowMs: 60_000,
      limit: requestsPerMinute,
      standardHeaders: "draft-8",
      legacyHeaders: false,
      handler: () => {
        throw new RequestError("too-many-requests");
      },
    }),
  );
  api.use(onlyOwnPages);
  api.use((_request, response, next) => {
    response.set("cache-control", "no-store");
    next();
  });
  api.use(express.json({ limit: limits.bodyBytes }));
  api.get("/openapi.json", (_request, response) => {
    description ??= openApiDocument();
    response.json(description);
  });
  api.use(recordRoutes({ store, data }));
  api.use(questionRoutes({ data, pool, limits }));
  api.use(statementRoutes({ store, data, pool, clock, limits }));
  api.use(auditRoutes({ store, data, pool, clock }));
  api.use(backupRoutes({ store, clock }));
  api.use(formRoutes({ store, clock, stored: data.changed }));
  api.use(mappingRoutes(store));
  api.use(setupRoutes({ store, clock, stored: data.changed }));
  api.use(undoRoutes({ store, clock, stored: data.changed }));
  api.use(dropRoutes({ store, pool: dropPool, clock, limits, stored: data.changed }));
  app.use("/api", api);

  if (webFolder !== undefined && existsSync(join(webFolder, "index.html"))) servePage(app, webFolder);

  app.use((request) => {
    throw new RequestError("no-such-address", { address: request.path.slice(0, 200) });
  });
  const sayWhy: ErrorRequestHandler = (thrown, request, response, next) => {
    const { status, body } = errorReply(thrown, limits);
    if (body.error.code === "study-cancelled") nobodyWaits.add(response);
    else if (status >= 500)
      request.log.error({ err: { message: String(thrown), code: body.error.code } }, "request failed");
    if (response.headersSent) return next(thrown);
    response.status(status).json(body);
  };
  app.use(sayWhy);
  return app;
}

/** Files of the page; every other address that a browser asks to show is a place within the page. */
function servePage(app: Express, folder: string): void {
  app.use(express.static(folder, { index: false, maxAge: "1y", immutable: true, setHeaders: shortLived }));
  app.use((request, response, next) => {
    const isPlace = request.method === "GET" && !/^\/(api|assets)(\/|$)/.test(request.path) && request.accepts("html");
    if (!isPlace) return next();
    response.set("cache-control", "no-cache").sendFile("index.html", { root: folder });
  });
}

/** Only files named by their content are kept for long. */
function shortLived(response: { setHeader(name: string, value: string): unknown }, path: string): void {
  if (!/[\\/]assets[\\/]/.test(path)) response.setHeader("cache-control", "no-cache");
}

const headers: Parameters<typeof helmet>[0] = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      "default-src": ["'none'"],
      "script-src": ["'self'"],
      // Views place things by style attributes; a style cannot run code.
      "style-src": ["'self'", "'unsafe-inline'"],
      "img-src": ["'self'", "data:", "blob:"],
      "font-src": ["'self'"],
      "connect-src": ["'self'"],
      "form-action": ["'self'"],
      // The preview of a statement is the document itself, framed.
      "frame-src": ["'self'"],
      "base-uri": ["'none'"],
      "frame-ancestors": ["'none'"],
    },
  },
  // Served over plain HTTP on the machine itself.
  strictTransportSecurity: false,
  crossOriginEmbedderPolicy: false,
};
