import { fileURLToPath } from "node:url";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { defaultStudy, engineVersion, type Life } from "../../../analysis/index.ts";
import { batchReply, errorReply, livesReply, rowsReply, stateReply } from "../../../server/contracts/api.ts";
import { redressIntervalResult } from "../../../server/contracts/decisions.ts";
import { itemLifeResult, toolHistoryResult, whatFailsResult } from "../../../server/contracts/results.ts";
import { createStudyPool } from "../../../server/work/studyPool.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf, smallShop } from "../../support/smallShop.ts";

let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests({ batches: [batchOf(smallShop())] });
});
afterAll(() => shop.close());
const get = (address: string) => request(shop.app).get(address);
const seal = "/api/item-life?item=main%20seal&mode=wear";

describe("what is stored", () => {
  test("the state holds counts, hash, choices and no open question", async () => {
    const reply = await get("/api/state");
    expect(reply.status).toBe(200);
    const state = stateReply.strict().parse(reply.body);
    expect(state).toMatchObject({ engineVersion, batches: 1, setAside: 0, sample: false, openQuestions: [] });
    expect(state.rows).toMatchObject({ tools: 4, redresses: 16, runs: 16, teardowns: 16, findings: 16 });
    expect(state.choices.toolTypes.map(({ toolType, sizesIn }) => [toolType, sizesIn])).toEqual([
      ["Quill", [4.75, 6.5]],
    ]);
  });

  test("rows are found by table and key, in the order asked; one that is not there is named", async () => {
    const refs = ['runs:["run QX-102-1"]', 'tools:["QX-101"]'];
    const reply = await get("/api/rows").query({ ref: refs });
    const { rows, missing } = rowsReply.parse(reply.body);
    expect(rows.map(({ table, key }) => `${table}:${key}`)).toEqual(refs);
    expect(missing).toEqual([]);
    const partly = await get("/api/rows").query({ ref: ['runs:["run 9"]', ...refs] });
    expect(partly.status).toBe(200);
    expect(rowsReply.parse(partly.body)).toEqual({ rows, missing: [{ table: "runs", key: '["run 9"]' }] });
  });

  test("a batch is found by its number; another is a 404", async () => {
    const [batch] = (await get("/api/batches")).body;
    const reply = await get(`/api/batches/${batch.batch}`);
    expect(batchReply.parse(reply.body)).toMatchObject({ ...batch, problems: [], setAsideLines: [] });
    for (const id of ["99", "0", "-1", "1e0", "one"]) expect((await get(`/api/batches/${id}`)).status).toBe(404);
  });
});

describe("questions", () => {
  test("the redress interval comes back as the contract says, with the costs and the allowance that were asked for", async () => {
    const reply = await get("/api/redress-interval?item=main%20seal&planned=6000&failure=60000&risk=0.05&run=80");
    expect(reply.status).toBe(200);
    const result = redressIntervalResult.strict().parse(reply.body);
    expect(result).toMatchObject({ item: "main seal", planned: { amount: 6_000, source: "asked" } });
    expect(result.risk).toMatchObject({ allowedChance: 0.05, runHours: 80, oneSided: 0.95 });
    const csv = await get("/api/redress-interval?item=main%20seal&format=csv&table=modes");
    expect(csv.text.split("\r\n")[0]).toContain("item,mode,defect before it");
    for (const wrong of ["planned=0", "failure=-1", "risk=1", "run=none", "age=100&table=steps"])
      expect((await get(`/api/redress-interval?${wrong}`)).status, wrong).toBe(400);
  });

  test("item life comes back as the contract says, with the settings that were asked for", async () => {
    const reply = await get(`${seal}&confidence=0.8&age=150&missing=all-low`);
    expect(reply.status).toBe(200);
    const result = itemLifeResult.parse(reply.body);
    expect(result.definition).toMatchObject({ confidence: 0.8, statedAge: 150, missingHours: "all low" });
    expect(result).toMatchObject({ item: "main seal", mode: "wear", counts: { lives: 16, serials: 4 } });
    expect(result.readings.b10.confidence).toBe(0.8);
    expect(result.provenance.dataHash).toBe((await get("/api/state")).body.dataHash);
  });

  test("what fails and a tool's history come back as their contracts say", async () => {
    const fails = whatFailsResult.parse((await get("/api/what-fails?type=Quill")).body);
    expect(fails).toMatchObject({ tools: 4, runs: 16 });
    const history = toolHistoryResult.parse((await get("/api/tools/QX-103")).body);
    expect(history.tool.serial).toBe("QX-103");
    expect((await get("/api/tool-history/QX-103")).body).toEqual(history);
  });

  test("a question posted with all its settings is the same study", async () => {
    const scope = { item: "main seal", mode: "wear" };
    const posted = await request(shop.app).post("/api/studies").send(defaultStudy("item life", scope));
    expect(posted.status).toBe(200);
    expect(posted.body).toEqual((await get(seal)).body);
    const wrong = { ...defaultStudy("item life", scope), confidence: "high" };
    const refused = await request(shop.app).post("/api/studies").send(wrong);
    expect(refused.status).toBe(400);
    expect(refused.body.error.facts.place).toBe("confidence");
  });

  test("the same question of the same data is computed once", async () => {
    const before = shop.pool.counts.computed;
    const replies = await Promise.all(Array.from({ length: 4 }, () => get(`${seal}&age=77`)));
    expect(replies.map((reply) => reply.status)).toEqual([200, 200, 200, 200]);
    expect((await get(`${seal}&age=77`)).body).toEqual(replies[0]?.body);
    expect(shop.pool.counts.computed).toBe(before + 1);
  });

  test("a serial that is not there is a 404 with words", async () => {
    const reply = await get("/api/tools/NO-1");
    expect(reply.status).toBe(404);
    expect(errorReply.parse(reply.body).error).toMatchObject({ code: "tool-not-found", facts: { serial: "NO-1" } });
    expect(reply.body.error.message).toContain("NO-1");
  });

  test("markup in a name is passed on as data, typed as JSON", async () => {
    const reply = await get("/api/state");
    expect(reply.headers["content-type"]).toContain("application/json");
    expect(reply.body.choices.customers).toContain('<b>"Bold" & Sons</b>');
    const wrong = await get("/api/item-life?from=<script>alert(1)</script>");
    expect(wrong.headers["content-type"]).toContain("application/json");
    expect(wrong.status).toBe(400);
  });
});

describe("lives", () => {
  test("pages follow each other and hold every life of the scope once", async () => {
    const pages = await Promise.all(
      [0, 5, 10, 15].map((offset) => get(`/api/lives?item=main%20seal&mode=wear&limit=5&offset=${offset}`)),
    );
    const replies = pages.map(({ body }) => livesReply.parse(body));
    expect(replies.map(({ total, lives }) => [total, lives.length])).toEqual([
      [16, 5],
      [16, 5],
      [16, 5],
      [16, 1],
    ]);
    const ids = replies.flatMap(({ lives }) => lives.map(({ id }) => id));
    expect(new Set(ids).size).toBe(16);
  });

  test("filters by serial, size, date of restoration, customer of the first run and kind", async () => {
    const wear = "/api/lives?item=main%20seal&mode=wear";
    const totals = async (more: string) => (await get(`${wear}${more}`)).body.total;
    expect(await totals("&serial=QX-101")).toBe(4);
    expect(await totals("&size=4.75")).toBe(8);
    expect(await totals("&from=2024-04-02&to=2024-07-02")).toBe(8);
    expect(await totals("&customer=Northern%20Example%20Drilling")).toBe(8);
    // Each build is renewed and looked at once: failures are found at the first look, the rest are still sound.
    expect(await totals("&kind=left")).toBe(10);
    expect(await totals("&kind=right")).toBe(6);
    expect(await totals("&type=Other")).toBe(0);
  });

  test("lives are found by the ids that a result gives, in that order", async () => {
    const result = itemLifeResult.parse((await get(seal)).body);
    const ids = result.histories
      .slice(0, 3)
      .map(({ lifeId }) => lifeId)
      .reverse();
    const reply = await get("/api/lives").query({ study: result.provenance.studyHash, id: ids });
    expect(reply.body.lives.map((life: Life) => life.id)).toEqual(ids);
    const missing = await get("/api/lives").query({ id: [...ids, "no such life"] });
    expect(missing.status).toBe(404);
    expect(missing.body.error.facts.life).toBe("no such life");
  });
});

describe("a study that takes long", () => {
  const workerFile = fileURLToPath(new URL("../work/testWorker.ts", import.meta.url));
  /** The test worker stays busy for as many milliseconds as the seed says. */
  const busyFor = (seed: number) => ({ ...defaultStudy("what fails"), seed });

  test("other requests are answered meanwhile", async () => {
    const pool = createStudyPool({ workerFile });
    const busy = await appForTests({ store: shop.store, pool });
    await request(busy.app).get("/api/state");
    let done = false;
    const study = request(busy.app)
      .post("/api/studies")
      .send(busyFor(4_000))
      .then((reply) => {
        done = true;
        return reply;
      });
    let answered = 0;
    while (answered < 10) {
      const reply = await request(busy.app).get("/api/state");
      expect(reply.status).toBe(200);
      answered += 1;
    }
    expect(done).toBe(false);
    // Refused by the test worker once its time is over: it did run.
    expect((await study).body.error.code).toBe("no-lives");
    await pool.close();
  });

  test("it is stopped after its time, with a 503 that says what to do", async () => {
    const pool = createStudyPool({ workerFile, timeoutMs: 1_000 });
    const busy = await appForTests({ store: shop.store, pool });
    const reply = await request(busy.app).post("/api/studies").send(busyFor(600_000));
    expect(reply.status).toBe(503);
    expect(reply.body.error).toMatchObject({ code: "study-too-long", facts: { seconds: 1 } });
    await pool.close();
  });

  test("it is stopped when the reader goes away, so that the next one is answered", async () => {
    const pool = createStudyPool({ workerFile });
    const busy = await appForTests({ store: shop.store, pool });
    const leaving = request(busy.app).post("/api/studies").send(busyFor(600_000)).timeout(1_500);
    await expect(leaving).rejects.toThrow(/timeout/i);
    expect((await request(busy.app).post("/api/studies").send(busyFor(1))).body.error.code).toBe("no-lives");
    await pool.close();
  });
});

describe("tables as CSV", () => {
  test.each([
    [`${seal}&format=csv`, "age h,surviving,lower,upper"],
    [`${seal}&format=csv&table=steps`, "from h,to h,surviving"],
    [`${seal}&format=csv&table=numbers`, "item,mode,number,value,lower,upper"],
    ["/api/what-fails?format=csv", "tool type,item,kind,mode"],
    ["/api/lives?format=csv&item=main%20seal", "life,tool type,size in,serial"],
  ])("%s", async (address, header) => {
    const reply = await get(address);
    expect(reply.status).toBe(200);
    expect(reply.headers["content-type"]).toContain("text/csv");
    expect(reply.headers["content-disposition"]).toContain("attachment");
    expect(reply.text.replace("\uFEFF", "").startsWith(header)).toBe(true);
    expect(reply.text.trim().split("\r\n").length).toBeGreaterThan(2);
  });

  test("the curve in CSV is the curve in JSON", async () => {
    const { survival } = itemLifeResult.parse((await get(seal)).body);
    const lines = (await get(`${seal}&format=csv`)).text.trim().split("\r\n").slice(1);
    expect(lines.map((line) => Number(line.split(",")[1]))).toEqual(survival?.value);
  });
});

test.each([
  ["/api/item-life?size=big", "size"],
  ["/api/item-life?size=-1", "size"],
  ["/api/item-life?size=1e999", "size"],
  ["/api/item-life?size=", "size"],
  ["/api/item-life?item=", "item"],
  ["/api/item-life?item=a&item=b", "item"],
  [`/api/item-life?customer=${"long".repeat(51)}`, "customer"],
  ["/api/item-life?from=2024-02-30", "from"],
  ["/api/item-life?from=1.2.2024", "from"],
  ["/api/item-life?from=2024-03-01&to=2024-02-01", "to"],
  ["/api/item-life?confidence=90", "confidence"],
  ["/api/item-life?confidence=0", "confidence"],
  ["/api/item-life?confidence=NaN", "confidence"],
  ["/api/item-life?age=0", "age"],
  ["/api/item-life?missing=guess", "missing"],
  ["/api/item-life?format=xml", "format"],
  ["/api/item-life?table=points", "table"],
  ["/api/item-life?sise=6.5", "sise"],
  ["/api/what-fails?to=tomorrow", "to"],
  ["/api/what-fails?kind=exact", "kind"],
  ["/api/tools/QX-101?confidence=2", "confidence"],
  ["/api/tools/QX-101?item=J1", "item"],
  ["/api/lives?kind=half", "kind"],
  ["/api/lives?offset=-1", "offset"],
  ["/api/lives?limit=1.5", "limit"],
  ["/api/lives?limit=100000", "limit"],
  ["/api/rows", "ref"],
  ["/api/rows?ref=runs", "ref"],
  ["/api/rows?ref=passwords:[1]", "ref"],
  ["/api/rows?ref=runs:R1", "ref"],
  ["/api/rows?ref=__proto__:[1]", "ref"],
])("%s is a 400", async (address, parameter) => {
  const reply = await request(shop.app).get(address);
  expect(reply.status).toBe(400);
  expect(reply.body.error).toMatchObject({ code: "bad-parameter", facts: { parameter } });
  expect(reply.body.error.message).toContain(`"${parameter}"`);
});

test("a law chosen in the address is the one that is read; one that is not known is refused in words", async () => {
  const reply = await get(`${seal}&law=lognormal`);
  expect(itemLifeResult.parse(reply.body)).toMatchObject({
    definition: { law: "lognormal" },
    fit: { distribution: "lognormal" },
  });
  const refused = await get(`${seal}&law=guess`);
  expect(refused.status).toBe(400);
  expect(refused.body.error.message).toContain("lognormal");
});
