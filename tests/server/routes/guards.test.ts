import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pino } from "pino";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../../server/app.ts";
import { usualDropLimits } from "../../../server/intake/drops.ts";
import { RequestError } from "../../../server/routes/requestError.ts";
import type { StudyPool } from "../../../server/work/studyPool.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";

let web: string;
let shop: AppForTests;
beforeAll(async () => {
  web = await mkdtemp(join(tmpdir(), "afterrun-web-"));
  await mkdir(join(web, "assets"));
  await writeFile(join(web, "index.html"), "<!doctype html><title>page</title>");
  await writeFile(join(web, "assets", "main-1a2b.js"), "export {};");
  shop = await appForTests({ webFolder: web, limits: { ...usualDropLimits, bodyBytes: 2_000 } });
});
afterAll(async () => {
  await shop.close();
  await rm(web, { recursive: true, force: true });
});

test("a question that nobody waits for any longer is no error in the log; one that went wrong is", async () => {
  const lines: { readonly level: number; readonly msg: string }[] = [];
  const logger = pino({ level: "info" }, { write: (line: string) => lines.push(JSON.parse(line)) });
  const failing = (code: "study-cancelled" | "study-too-long"): StudyPool => ({
    ...shop.pool,
    study: async () => {
      throw new RequestError(code);
    },
  });
  const levels = [];
  for (const code of ["study-cancelled", "study-too-long"] as const) {
    const options = { store: shop.store, clock: () => new Date("2025-06-01T12:00:00Z"), logger, pool: failing(code) };
    const reply = await request(createApp(options)).get("/api/what-fails");
    expect([reply.status, reply.body.error.code]).toEqual([503, code]);
    levels.push(lines.splice(0).map(({ level }) => pino.levels.labels[level]));
  }
  expect(levels).toEqual([["info"], ["error", "error"]]);
});

describe("who may ask", () => {
  // DNS rebinding: the browser sends the foreign name as Host.
  test.each(["evil.example", "evil.example:4870", "127.0.0.1.evil.example", "localhost.evil.example", ""])(
    "the host %j is refused",
    async (host) => {
      const reply = await request(shop.app).get("/api/openapi.json").set("host", host);
      expect(reply.status).toBe(403);
      expect(reply.body.error.code).toBe("host-refused");
    },
  );

  test.each(["localhost", "localhost:4870", "127.0.0.1:1", "[::1]:4870", "LOCALHOST:80"])(
    "the host %j is answered",
    async (host) => {
      expect((await request(shop.app).get("/api/openapi.json").set("host", host)).status).toBe(200);
    },
  );

  test.each([
    { origin: "https://evil.example" },
    { origin: "null" },
    { origin: "http://localhost:1" },
    { "sec-fetch-site": "cross-site" },
    { "sec-fetch-site": "same-site" },
  ])("a change asked for by another site is refused: %j", async (headers) => {
    for (const send of [request(shop.app).post("/api/drops"), request(shop.app).delete("/api/drops/x")]) {
      const reply = await send.set("host", "localhost:4870").set(headers);
      expect(reply.status).toBe(403);
      expect(reply.body.error.code).toBe("cross-site-refused");
    }
  });

  test("the page's own request and a program's pass the guard", async () => {
    const own = { host: "localhost:4870", origin: "http://localhost:4870", "sec-fetch-site": "same-origin" };
    expect((await request(shop.app).delete("/api/drops/x").set(own)).body.error.code).toBe("drop-not-found");
    expect((await request(shop.app).delete("/api/drops/x")).body.error.code).toBe("drop-not-found");
  });

  test("no other site may read a reply, and the page may load only its own", async () => {
    const reply = await request(shop.app).get("/api/openapi.json").set("origin", "https://evil.example");
    expect(reply.headers["access-control-allow-origin"]).toBeUndefined();
    expect(reply.headers["content-security-policy"]).toContain("default-src 'none'");
    expect(reply.headers["content-security-policy"]).toContain("script-src 'self'");
    expect(reply.headers["content-security-policy"]).not.toMatch(/script-src[^;]*unsafe/);
    expect(reply.headers["x-content-type-options"]).toBe("nosniff");
    expect(reply.headers["x-powered-by"]).toBeUndefined();
  });

  test("too many requests from one address are held back, with words", async () => {
    const busy = await appForTests({ requestsPerMinute: 3, store: shop.store, pool: shop.pool });
    const statuses: number[] = [];
    for (let count = 0; count < 5; count += 1) statuses.push((await request(busy.app).get("/api/openapi.json")).status);
    expect(statuses).toEqual([200, 200, 200, 429, 429]);
    const held = await request(busy.app).get("/api/openapi.json");
    expect(held.body.error).toMatchObject({ code: "too-many-requests", message: expect.stringContaining("Wait") });
  });
});

describe("what is not understood", () => {
  test("an unknown address under /api is a 404 in JSON that names it", async () => {
    const reply = await request(shop.app).get("/api/nothing?x=1").set("accept", "text/html");
    expect(reply.status).toBe(404);
    expect(reply.body.error).toMatchObject({ code: "no-such-address", facts: { address: "/api/nothing" } });
  });

  test.each([
    ["{", "it is not JSON"],
    ['{"confirm": "all"}', "confirm"],
    ['{"confirm": [1]}', "confirm.0"],
    ['{"confirms": []}', "confirms"],
    ['{"mappings": {"runs.csv": {"name": "x"}}}', "mappings.runs.csv"],
  ])("the body %s is a 400 that says where", async (body, place) => {
    const reply = await request(shop.app).post("/api/drops/x/answers").type("json").send(body);
    expect(reply.status).toBe(400);
    expect(reply.body.error.code).toBe("bad-body");
    expect(reply.body.error.message).toContain(place);
  });

  test("a body larger than allowed is a 413", async () => {
    const reply = await request(shop.app)
      .post("/api/drops/x/answers")
      .send({ confirm: ["x".repeat(3_000)] });
    expect(reply.status).toBe(413);
  });

  test("an address that is not well formed is a 400", async () => {
    expect((await request(shop.app).get("/api/tools/%E0%A4%A")).status).toBe(400);
  });
});

describe("the page", () => {
  test.each(["/", "/item-life?item=J1", "/tool-history/QX-101.5", "/records/drop"])(
    "the place %s is the page, asked for anew each time",
    async (place) => {
      const reply = await request(shop.app).get(place).set("accept", "text/html,*/*;q=0.8");
      expect(reply.status).toBe(200);
      expect(reply.text).toContain("<title>page</title>");
      expect(reply.headers["cache-control"]).toBe("no-cache");
    },
  );

  test("files named by their content are kept; a missing one is a 404 and not the page", async () => {
    const file = await request(shop.app).get("/assets/main-1a2b.js");
    expect(file.headers["cache-control"]).toContain("immutable");
    expect((await request(shop.app).get("/assets/main-gone.js").set("accept", "text/html")).status).toBe(404);
    expect((await request(shop.app).get("/favicon.ico").set("accept", "image/*")).status).toBe(404);
  });

  test("no path leads out of the folder of the page", async () => {
    for (const path of ["/..%2f..%2fpackage.json", "/assets/..%5c..%5cpackage.json", "/%2e%2e/%2e%2e/etc/passwd"]) {
      const reply = await request(shop.app).get(path);
      expect(reply.text).not.toContain("devDependencies");
      expect(reply.text).not.toContain("root:");
    }
  });
});
