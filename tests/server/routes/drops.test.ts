import { createHash } from "node:crypto";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { DropPreview } from "../../../analysis/index.ts";
import { batchReply, dropPreview, errorReply, rowsReply, storedBatch } from "../../../server/contracts/api.ts";
import { itemLifeResult } from "../../../server/contracts/results.ts";
import { storeReading, usualDropLimits } from "../../../server/intake/drops.ts";
import { readDrop } from "../../../server/intake/readDrop.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { smallSheets } from "../../support/smallSheets.ts";

const limits = { ...usualDropLimits, fileBytes: 100_000, files: 5, dropBytes: 300_000, drops: 4 };
let shop: AppForTests;
let now = new Date("2025-06-01T12:00:00Z");
beforeAll(async () => {
  shop = await appForTests({ limits, clock: () => now });
});
afterAll(() => shop.close());

const get = (address: string) => request(shop.app).get(address);
const post = (address: string, body: object = {}) => request(shop.app).post(address).send(body);
function drop(files: Readonly<Record<string, string | Buffer>>) {
  const sending = request(shop.app).post("/api/drops");
  for (const [name, text] of Object.entries(files)) sending.attach("files", Buffer.from(text), { filename: name });
  return sending;
}
const confirmAll = (preview: DropPreview) =>
  post(`/api/drops/${preview.id}/answers`, { confirm: preview.confirmations.map(({ id }) => id) });
const takeBack = (id: string) => request(shop.app).delete(`/api/drops/${id}`);
const sum = ({ new: fresh, unchanged, changed, setAside }: DropPreview["counts"]) =>
  fresh + unchanged + changed + setAside;

describe("from drop to answer", () => {
  let id: string;

  test("a drop is previewed, file by file, and nothing is stored", async () => {
    const reply = await drop(smallSheets);
    expect(reply.status).toBe(201);
    const preview = dropPreview.strict().parse(reply.body);
    id = preview.id;
    expect(reply.headers.location).toBe(`/api/drops/${id}`);
    expect(preview.files.map(({ file }) => file)).toEqual(Object.keys(smallSheets));
    for (const { counts, file } of preview.files) {
      expect(sum(counts)).toBe(counts.lines);
      expect(counts.lines).toBe((smallSheets[file]?.split("\n").length ?? 0) - 1);
    }
    expect(preview.ready).toBe(false);
    expect(preview.confirmations.length).toBeGreaterThan(0);
    expect((await get(`/api/drops/${id}`)).body).toEqual(reply.body);
    expect((await get("/api/batches")).body).toEqual([]);
    expect((await get("/api/state")).body.rows.runs).toBe(0);
  });

  test("it is not stored while a question is open, and the first open question is named", async () => {
    const reply = await post(`/api/drops/${id}/store`, { who: "AB" });
    expect(reply.status).toBe(409);
    const { code, facts } = errorReply.parse(reply.body).error;
    expect(code).toBe("drop-not-ready");
    const preview: DropPreview = (await get(`/api/drops/${id}`)).body;
    expect(facts).toEqual({ open: preview.confirmations.length, question: preview.confirmations[0]?.question });
  });

  test("confirmed, it still asks who confirms; then it is stored as one batch", async () => {
    const preview: DropPreview = (await confirmAll((await get(`/api/drops/${id}`)).body)).body;
    expect(preview.ready).toBe(true);
    for (const who of [undefined, "", "  ", "A1", "far too many letters", "sample fleet (invented)", "<b>", 7]) {
      const refused = await post(`/api/drops/${id}/store`, { who });
      expect([refused.status, refused.body.error.code]).toEqual([400, "initials-missing"]);
    }
    const reply = await post(`/api/drops/${id}/store`, { who: "AB" });
    expect(reply.status).toBe(201);
    const batch = storedBatch.strict().parse(reply.body);
    expect(batch).toMatchObject({ batch: 1, who: "AB", storedAt: now.toISOString(), counts: preview.counts });
    const sha256 = createHash("sha256")
      .update(smallSheets["runs.csv"] ?? "")
      .digest("hex");
    expect(batch.files.find(({ file }) => file === "runs.csv")?.sha256).toBe(sha256);
    expect((await get("/api/batches")).body).toEqual([batch]);
    expect((await get(`/api/drops/${id}`)).status).toBe(404);
  });

  test("the question is answered from what was dropped, down to the cells behind a life", async () => {
    const result = itemLifeResult.parse((await get("/api/item-life?item=main%20seal&mode=wear")).body);
    // Six builds, each looked at once after one run; three of the looks found wear.
    expect(result.counts).toMatchObject({ lives: 6, failures: 3, serials: 3 });
    const { lives } = (await get("/api/lives").query({ id: result.histories[0]?.lifeId })).body;
    const refs = lives[0].rows.map((row: { table: string; key: string }) => `${row.table}:${row.key}`);
    const rows = rowsReply.parse((await get("/api/rows").query({ ref: refs })).body).rows;
    expect(rows.map(({ origin }) => origin.file)).toEqual(expect.arrayContaining(["builds.csv", "runs.csv"]));
    for (const { origin, asWritten } of rows) {
      const line = smallSheets[origin.file]?.split("\n")[origin.line - 1] ?? "";
      for (const cell of Object.values(asWritten)) expect(line).toContain(cell);
    }
  });

  test("the same drop again is all unchanged; a grown and edited one says what is new and what changes", async () => {
    const again = dropPreview.parse((await drop(smallSheets)).body);
    expect(again.counts).toMatchObject({ new: 0, changed: 0, setAside: 1 });
    expect(again.files.map(({ mappingIs }) => mappingIs)).toEqual(again.files.map(() => "remembered"));
    await takeBack(again.id);

    const runs = `${smallSheets["runs.csv"]?.replace(",180,", ",185,")}\n7,QX-101,2024-08-01,2024-08-20,75,Example Energy,Planned`;
    const grown = dropPreview.parse((await drop({ "runs.csv": runs })).body);
    expect(grown.counts).toMatchObject({ lines: 7, new: 1, unchanged: 5, changed: 1, setAside: 0 });
    expect(grown.files[0]?.changes).toMatchObject([{ field: "hours", was: 180, becomes: 185, origin: { line: 3 } }]);
    await takeBack(grown.id);
  });

  test("lines set aside are kept with the batch and can be saved; no cell runs as a formula", async () => {
    const batch = batchReply.parse((await get("/api/batches/1")).body);
    expect(batch.setAsideLines).toMatchObject([{ origin: { file: "teardowns.csv", line: 8 } }]);
    const saved = await get("/api/batches/1/set-aside.csv");
    expect(saved.headers["content-disposition"]).toContain("set-aside-1.csv");
    expect(saved.text).toContain(`,'=cmd|' /C calc'!A0,`);
    expect(saved.text).not.toContain(",=cmd");
  });

  test("a name that holds markup comes back as it was written, inside JSON", async () => {
    const { text, headers, body } = await get("/api/state");
    expect(headers["content-type"]).toContain("application/json");
    expect(headers["x-content-type-options"]).toBe("nosniff");
    expect(body.choices.customers).toContain("<img src=x onerror=alert(1)>");
    expect(text).not.toMatch(/^</);
  });
});

describe("drops that wait", () => {
  const runs = { "runs.csv": smallSheets["runs.csv"] ?? "" };

  test("a drop that is taken back is gone", async () => {
    const { id } = (await drop(runs)).body;
    expect((await takeBack(id)).status).toBe(204);
    for (const reply of [
      await get(`/api/drops/${id}`),
      await takeBack(id),
      await post(`/api/drops/${id}/store`, { who: "AB" }),
    ])
      expect([reply.status, reply.body.error.code]).toEqual([404, "drop-not-found"]);
  });

  test("only so many wait at once, and old ones are forgotten", async () => {
    const waiting = [];
    for (let count = 0; count < limits.drops; count += 1) waiting.push((await drop(runs)).body.id);
    const refused = await drop(runs);
    expect([refused.status, refused.body.error.code]).toEqual([409, "too-many-drops"]);
    const before = now;
    now = new Date(before.getTime() + limits.keepMs + 1);
    expect((await get(`/api/drops/${waiting[0]}`)).status).toBe(404);
    const fresh = await drop(runs);
    expect(fresh.status).toBe(201);
    await takeBack(fresh.body.id);
    now = before;
  });

  test("stored twice at the same moment, it is stored once", async () => {
    const { id } = (await drop({ "runs.csv": `${runs["runs.csv"]}\n8,QX-101,2024-09-01,2024-09-20,75,X,Planned` }))
      .body;
    const replies = await Promise.all([1, 2, 3].map(() => post(`/api/drops/${id}/store`, { who: "AB" })));
    expect(replies.filter(({ status }) => status === 201).length).toBe(1);
    for (const { status, body } of replies.filter((reply) => reply.status !== 201))
      expect([
        [409, "drop-being-stored"],
        [404, "drop-not-found"],
      ]).toContainEqual([status, body.error.code]);
    expect((await get("/api/batches")).body.length).toBe(2);
  });

  test("a mapping edited for a file that is not in the drop, or that cannot be used, leaves the drop as it was", async () => {
    const preview: DropPreview = (await drop(runs)).body;
    const { mapping } = preview.files[0] ?? {};
    const elsewhere = await post(`/api/drops/${preview.id}/answers`, { mappings: { "other.csv": mapping } });
    expect([elsewhere.status, elsewhere.body.error.facts.place]).toEqual([400, "mappings.other.csv"]);
    const broken = { ...mapping, tables: [{ table: "runs", columns: { run: { pattern: "(", of: "Run no" } } }] };
    const refused = await post(`/api/drops/${preview.id}/answers`, { mappings: { "runs.csv": broken } });
    expect([refused.status, refused.body.error.code]).toEqual([400, "bad-mapping"]);
    expect((await get(`/api/drops/${preview.id}`)).body).toEqual(preview);
    await takeBack(preview.id);
  });
});

describe("hostile and mistaken uploads", () => {
  const code = ({ body, status }: request.Response) => [status, errorReply.parse(body).error.code];
  const binary = Buffer.from(Array.from({ length: 4_000 }, (_, index) => (index * 7919) % 256));

  test.each([
    ["bytes that are no text", { "runs.csv": binary }, 422, "sheet-not-text"],
    [
      "a zip archive named as a sheet",
      { "runs.csv": Buffer.from("504b0304140000000800000021", "hex") },
      422,
      "workbook-not-readable",
    ],
    ["an empty file", { "runs.csv": "" }, 422, "sheet-empty"],
    ["a quote that is never closed", { "runs.csv": 'a,b\n1,"2\n3,4' }, 422, "quote-not-closed"],
    ["a thousand columns", { "runs.csv": Array(1_000).fill("x").join(",") }, 422, "too-many-columns"],
  ])("%s is refused with the file's name", async (_what, files, status, expected) => {
    const reply = await drop(files);
    expect(code(reply)).toEqual([status, expected]);
    expect(reply.body.error.message).toContain("runs.csv");
    expect((await get("/api/batches")).body.length).toBe(2);
  });

  test("a file over the limit, files over the limit together, and too many files are 413", async () => {
    const big = "x".repeat(limits.fileBytes + 1);
    expect(code(await drop({ "big.csv": big }))).toEqual([413, "file-too-large"]);
    const half = "x".repeat(limits.fileBytes - 10);
    expect(code(await drop({ a: half, b: half, c: half, d: half }))).toEqual([413, "drop-too-large"]);
    const six = Object.fromEntries(Array.from({ length: 6 }, (_, index) => [`${index}.csv`, "a,b\n1,2"]));
    expect(code(await drop(six))).toEqual([413, "too-many-files"]);
  });

  test("another field, a form field, no file and no multipart at all are 400", async () => {
    const attach = (field: string) =>
      request(shop.app).post("/api/drops").attach(field, Buffer.from("a,b\n1,2"), "a.csv");
    expect(code(await attach("file"))).toEqual([400, "upload-refused"]);
    expect(code(await attach("files").field("note", "x"))).toEqual([400, "upload-refused"]);
    expect(code(await post("/api/drops", { files: [] }))).toEqual([400, "upload-refused"]);
    const none = request(shop.app).post("/api/drops").type("multipart/form-data; boundary=x").send("--x--\r\n");
    expect(code(await none)).toEqual([400, "nothing-dropped"]);
  });

  test.each([
    ["no boundary", "multipart/form-data", "a"],
    ["cut off in a header", "multipart/form-data; boundary=x", "--x\r\nContent-Disposition: form-data; na"],
    [
      "cut off in a file",
      "multipart/form-data; boundary=x",
      '--x\r\nContent-Disposition: form-data; name="files"; filename="a.csv"\r\n\r\na,b',
    ],
  ])("a body that is not well formed (%s) is a 400", async (_what, type, body) => {
    expect(code(await request(shop.app).post("/api/drops").type(type).send(body))).toEqual([400, "upload-refused"]);
  });

  test("a name that is a path, holds markup or control characters, or comes twice is made plain", async () => {
    const names = ["../../../etc/cron.d/x.csv", "C:\\Windows\\system32\\x.csv", "<script>alert(1)</script>.csv"];
    const sending = request(shop.app).post("/api/drops");
    for (const filename of names)
      sending.attach("files", Buffer.from(smallSheets["tool list.csv"] ?? ""), { filename });
    const reply = await sending;
    expect(reply.status).toBe(201);
    expect(reply.headers["content-type"]).toContain("application/json");
    expect(reply.body.files.map((file: { file: string }) => file.file)).toEqual(["x.csv", "x (2).csv", "script>.csv"]);
    await takeBack(reply.body.id);
  });
});

describe("while the shop has not said what a rebuild renews", () => {
  let asking: AppForTests;
  beforeAll(async () => {
    asking = await appForTests();
    const files = Object.entries(smallSheets).map(([file, text]) => ({ file, bytes: new TextEncoder().encode(text) }));
    // Past the drop page, which would not store it: a store that came from elsewhere may hold open questions.
    const reading = await readDrop(files, {}, asking.store);
    await storeReading({ reading, files, who: "AB", when: now, store: asking.store });
  });
  afterAll(() => asking.close());

  test.each(["/api/item-life?item=main%20seal&mode=wear", "/api/what-fails", "/api/tools/QX-101", "/api/lives"])(
    "%s is a 409 with the question; the state lists it",
    async (address) => {
      const state = (await request(asking.app).get("/api/state")).body;
      expect(state.openQuestions.length).toBeGreaterThan(0);
      const reply = await request(asking.app).get(address);
      expect(reply.status).toBe(409);
      const { code, message, facts } = errorReply.parse(reply.body).error;
      expect([code, facts.question]).toEqual(["restoration-unanswered", state.openQuestions[0]]);
      expect(message).toContain(state.openQuestions[0]);
    },
  );

  test("dropped again and confirmed, the question is answered and every view answers", async () => {
    const sending = request(asking.app).post("/api/drops");
    for (const [name, text] of Object.entries(smallSheets)) sending.attach("files", Buffer.from(text), name);
    const preview: DropPreview = (await sending).body;
    const answers = { confirm: preview.confirmations.map(({ id }) => id) };
    await request(asking.app).post(`/api/drops/${preview.id}/answers`).send(answers);
    const stored = await request(asking.app).post(`/api/drops/${preview.id}/store`).set("x-initials", "CD").send();
    expect([stored.status, stored.body.who]).toEqual([201, "CD"]);
    expect((await request(asking.app).get("/api/state")).body.openQuestions).toEqual([]);
    expect((await request(asking.app).get("/api/what-fails")).status).toBe(200);
  });
});
