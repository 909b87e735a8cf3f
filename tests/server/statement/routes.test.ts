import { readFile } from "node:fs/promises";
import { join } from "node:path";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { defaultStatement, namesOf, type StatementDefinition, type StatementPreview } from "../../../analysis/index.ts";
import { statementEntry, statementPreview, statementsReply } from "../../../server/contracts/statements.ts";
import { aliasesOf } from "../../../server/statement/aliases.ts";
import { openStore } from "../../../server/storage/openStore.ts";
import { rebuildStore } from "../../../server/storage/rebuildStore.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf } from "../../support/smallShop.ts";
import { readPdf, squeezed } from "../../support/statement/readBack.ts";
import { shopOf, spells } from "../../support/statementShop.ts";

const records = shopOf(spells(40, { nth: 4 }));
const definition: StatementDefinition = {
  ...defaultStatement({ customer: "Northern Example Drilling" }),
  asked: ["failures a month"],
};
let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests({ batches: [batchOf(records)] });
});
afterAll(() => shop.close());

const post = (address: string, body: object = {}) => request(shop.app).post(address).send(body);
const get = (address: string) => request(shop.app).get(address);
const bytes = (address: string) =>
  get(address)
    .buffer(true)
    .parse((response, done) => {
      const parts: Buffer[] = [];
      response.on("data", (part: Buffer) => parts.push(part));
      response.on("end", () => done(null, Buffer.concat(parts)));
    });
const preview = async (body: object = definition): Promise<StatementPreview> => {
  const reply = await post("/api/statements/preview", body);
  expect(reply.status).toBe(200);
  return statementPreview.strict().parse(reply.body) as StatementPreview;
};

describe("preview", () => {
  test("says what the contract says, and the same when made again", async () => {
    const [first, second] = [await preview(), await preview()];
    expect(second).toEqual(first);
    expect(first.document.title).toBe("Reliability statement");
  });

  test("as events: how far it is, never falling, then the preview", async () => {
    const reply = await post("/api/statements/preview", { ...definition, runHours: 33 }).set(
      "accept",
      "text/event-stream",
    );
    const events = reply.text
      .trim()
      .split("\n\n")
      .map((block) => /^event: (.*)\ndata: (.*)$/s.exec(block)?.slice(1) ?? [])
      .map(([event, data = "{}"]) => ({ event, data: JSON.parse(data) }));
    const progress = events.filter(({ event }) => event === "progress").map(({ data }) => data);
    expect(progress.length).toBeGreaterThan(2);
    expect(progress.at(-1)).toMatchObject({ what: "Putting it together" });
    expect(progress.map(({ done }) => done)).toEqual([...progress.map(({ done }) => done)].sort((a, b) => a - b));
    expect(events.at(-1)?.event).toBe("preview");
    statementPreview.parse(events.at(-1)?.data);
  });

  test("the page is the document, may be framed by us, and runs nothing", async () => {
    const { id, document } = await preview();
    const page = await get(`/api/statements/preview/${id}/statement.html`);
    expect(page.status).toBe(200);
    expect(page.headers["content-security-policy"]).toContain("default-src 'none'");
    expect(page.headers["content-security-policy"]).toContain("frame-ancestors 'self'");
    expect(page.text).toContain("Preview: not stored, not approved, not for the customer.");
    expect(page.text).toContain(document.contentHash);
  });

  test("every format comes with its own media type, to be saved", async () => {
    const { id } = await preview();
    for (const [file, type] of [
      ["statement.xlsx", "spreadsheetml"],
      ["statement.pptx", "presentationml"],
      ["statement.zip", "application/zip"],
      ["statement.json", "application/json"],
      ["rates.svg", "image/svg+xml"],
      ["rates.png", "image/png"],
      ["modes.csv", "text/csv"],
    ] as const) {
      const reply = await bytes(`/api/statements/preview/${id}/${file}`);
      expect([reply.status, file]).toEqual([200, file]);
      expect(reply.headers["content-type"]).toContain(type);
      expect(reply.headers["content-disposition"]).toContain(`preview-${file}`);
    }
  });

  test.each([
    [{ ...definition, confidence: "high" }, 400, "bad-body"],
    [{ ...definition, runHours: -1 }, 400, "bad-setting"],
    [{ ...definition, kind: "before and after" }, 400, "bad-setting"],
    [{ ...definition, incidentRun: "no such run" }, 404, "run-not-found"],
    [{}, 400, "bad-body"],
  ])("%j is refused", async (body, status, code) => {
    const reply = await post("/api/statements/preview", body);
    expect([reply.status, reply.body.error.code]).toEqual([status, code]);
    expect(reply.body.error.message).toMatch(/[.]$/);
  });

  test("a preview or file that is not there is a 404, said in words", async () => {
    const { id } = await preview();
    for (const address of [
      "/api/statements/preview/none/statement.html",
      `/api/statements/preview/${id}/statement.doc`,
      "/api/statements/7/1/statement.pdf",
      "/api/statements/one/two/statement.pdf",
    ]) {
      const reply = await get(address);
      expect([reply.status, reply.body.error.code]).toEqual([404, "statement-not-found"]);
    }
  });
});

describe("draft, approved, issued", () => {
  test("one step after the other, by somebody, on the newest version; printed on the document", async () => {
    expect((await post("/api/statements", { definition })).body.error.code).toBe("initials-missing");
    const draft = await post("/api/statements", { definition, who: "AB" });
    expect(draft.status).toBe(201);
    expect(statementEntry.parse(draft.body)).toMatchObject({
      statement: 1,
      version: 1,
      state: "draft",
      drafted: { who: "AB" },
    });
    expect(draft.body.contentHash).toBe((await preview()).contentHash);

    const early = await post("/api/statements/1/1/issue", { who: "CD" });
    expect([early.status, early.body.error.code]).toEqual([409, "statement-step"]);
    expect(early.body.error.message).toContain("it is not approved");
    expect((await get("/api/statements/1/1/statement.html")).text).toContain("DRAFT, not for the customer");

    expect((await post("/api/statements/1/1/approve", { who: "CD" })).body).toMatchObject({
      state: "approved",
      approved: { who: "CD" },
    });
    expect((await post("/api/statements/1/1/approve", { who: "CD" })).status).toBe(409);
    expect((await post("/api/statements/1/1/issue", { who: "EF" })).body).toMatchObject({
      state: "issued",
      issued: { who: "EF" },
    });
    const pdf = await readPdf((await bytes("/api/statements/1/1/statement.pdf")).body);
    expect(squeezed(pdf.pages[0] ?? "")).toContain(
      squeezed(
        "Statement 1, version 1: drafted by AB on 1 Jun 2025; approved by CD on 1 Jun 2025; issued by EF on 1 Jun 2025.",
      ),
    );
  });

  test("the next version says what changed since the last one; the older one cannot move on", async () => {
    const next = await post("/api/statements", {
      definition: { ...definition, thresholds: { wear: 5 } },
      statement: 1,
      who: "AB",
    });
    expect(next.body).toMatchObject({ statement: 1, version: 2, state: "draft" });
    const page = (await get("/api/statements/1/2/statement.html")).text;
    expect(page).toContain("What changed since the last statement");
    expect(page).toContain(
      "Against statement 1, version 1. What counts as a failure, or which hours count, is set otherwise",
    );
    expect(page).toContain("The failure definition differs from the last statement.");
    const [first, second] = [
      await post("/api/statements", { definition, statement: 1, who: "AB" }),
      await post("/api/statements/1/2/approve", { who: "CD" }),
    ];
    expect(first.body.version).toBe(3);
    expect([second.status, second.body.error.message]).toEqual([
      409,
      "Statement 1, version 2, cannot be approved: there is a newer version. Nothing was stored.",
    ]);
    expect((await post("/api/statements", { definition, statement: 99, who: "AB" })).status).toBe(404);
  });

  test("the list has them all, the latest first, with what a statement may be about", async () => {
    const reply = statementsReply.strict().parse((await get("/api/statements")).body);
    expect(reply.statements.map(({ statement, version, state }) => [statement, version, state])).toEqual([
      [1, 3, "draft"],
      [1, 2, "draft"],
      [1, 1, "issued"],
    ]);
    expect(reply.wells).toHaveLength(40);
    expect(reply.incidents).toHaveLength(10);
  });

  test("they are in the journal: a store rebuilt from it has the same statements and the same aliases", async () => {
    const before = await shop.store.statementVersions();
    const journal = await readFile(join(shop.store.journalFolder, "log.jsonl"), "utf8");
    expect(journal.split("\n").filter((line) => line.includes('"kind":"statement"'))).toHaveLength(5);
    await shop.store.close();
    const report = await rebuildStore({ folder: shop.folder });
    expect(report.equal).toBe(true);
    const again = await openStore({ folder: shop.folder });
    try {
      expect(await again.statementVersions()).toEqual(before);
      const aliases = aliasesOf(again.secret, records, []);
      const { serial = "" } = before[0]?.result.failureFree.bySerial[0] ?? {};
      expect(Object.values(aliases.tool ?? {})).toContain(serial);
    } finally {
      await again.close();
    }
  });
});

describe("aliases", () => {
  test("differ by name and by store, and stay when names are added", () => {
    const few = aliasesOf("secret", records, ["a.csv"]);
    const more = aliasesOf("secret", shopOf([...spells(40, { nth: 4 }), ...spells(20, { prefix: "ZZ-9" })]), [
      "a.csv",
      "b.csv",
    ]);
    const other = aliasesOf("another", records, ["a.csv"]);
    for (const [kind, names] of Object.entries({ ...namesOf(records), file: ["a.csv"] })) {
      const own = few[kind as keyof typeof few] ?? {};
      expect(new Set(Object.values(own)).size).toBe(names.length);
      for (const name of names) {
        expect(own[name]).toMatch(/^[A-Z][a-z]+\.? [2-9B-Z]{4,}$/);
        expect(other[kind as keyof typeof other]?.[name]).not.toBe(own[name]);
      }
    }
    expect(more.tool?.["QX-101"]).toBe(few.tool?.["QX-101"]);
    expect(more.file?.["a.csv"]).toBe(few.file?.["a.csv"]);
  });
});
