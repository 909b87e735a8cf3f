import { rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { unzipSync } from "fflate";
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Answer, type Records, tableNames } from "../../../analysis/index.ts";
import { rowsReply, undoReply } from "../../../server/contracts/api.ts";
import {
  answersListReply,
  answersPreview,
  answersReply,
  auditReply,
  auditRowsReply,
} from "../../../server/contracts/audit.ts";
import { itemLifeResult } from "../../../server/contracts/results.ts";
import { readBackup } from "../../../server/storage/backup/readBackup.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf, smallShop } from "../../support/smallShop.ts";

/** The small shop with two faults of records: 900 h written of a run of 21 days, and a run without hours. */
function doubtful(): Records {
  const shop = smallShop();
  return {
    ...shop,
    runs: (shop.runs ?? []).map((run) =>
      run.run === "run QX-101-2" ? { ...run, hours: 900 } : run.run === "run QX-102-3" ? { ...run, hours: null } : run,
    ),
  };
}

let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests({ batches: [batchOf(doubtful())] });
});
afterAll(() => shop.close());
const get = (address: string) => request(shop.app).get(address);
const seal = "/api/item-life?item=main%20seal&mode=wear";
const lifeOf = async (address: string) => itemLifeResult.parse((await get(address)).body);

const tooMany: Omit<Answer, "who" | "when"> = {
  table: "runs",
  key: '["run QX-101-2"]',
  column: "hours",
  was: 900,
  becomes: 190,
  verdict: "correct",
  rule: "hours exceed dates",
  why: "typed twice; the log of the rig says 190",
};
const send = (answers: readonly object[], who: string | null = "CD") =>
  request(shop.app)
    .post("/api/audit/answers")
    .send({ ...(who === null ? {} : { who }), answers });

describe("the audit over HTTP", () => {
  test("lists groups with counts and lives, and the rows of one of them a page at a time", async () => {
    const audit = auditReply.strict().parse((await get("/api/audit")).body);
    expect(audit).toMatchObject({ open: true, stale: [], answers: 0 });
    expect(audit.total).toBe(audit.groups.reduce((sum, { count }) => sum + count, 0));
    const lives = audit.groups.map((group) => group.lives ?? -1);
    expect(lives).toEqual([...lives].sort((a, b) => b - a));
    const exceeds = audit.groups.find(({ rule }) => rule === "hours exceed dates");
    // The run is part of one life of the seal and one of the joint.
    expect(exceeds).toMatchObject({ rule: "hours exceed dates", table: "runs", column: "hours", count: 1, lives: 2 });

    const rows = auditRowsReply.parse((await get("/api/audit/rows?rule=hours%20exceed%20dates&column=hours")).body);
    expect(rows).toMatchObject({
      total: 1,
      rows: [{ row: { table: "runs", key: '["run QX-101-2"]' }, value: 900, lives: 2 }],
    });
    const second = auditRowsReply.parse((await get("/api/audit/rows?offset=1&limit=1")).body);
    expect([second.total, second.offset, second.rows.length]).toEqual([audit.total, 1, 1]);
  });

  test("says how many lives rest on what is in doubt, in all and kind by kind, of the fleet and of a scope", async () => {
    const fleet = auditReply.parse((await get("/api/audit")).body);
    expect(fleet.lives?.touched).toBeGreaterThan(0);
    expect(fleet.lives?.touched).toBeLessThanOrEqual(fleet.lives?.total ?? 0);
    const soFar = fleet.groups.map(({ livesSoFar }) => livesSoFar ?? -1);
    expect(soFar).toEqual([...soFar].sort((a, b) => a - b));
    expect(soFar[0]).toBe(fleet.groups[0]?.lives);
    expect(soFar[soFar.length - 1]).toBe(fleet.lives?.touched);

    // The seal's lives: those that its study counts, and only doubts that one of them rests on.
    const scoped = auditReply.parse((await get("/api/audit?item=main%20seal&mode=wear")).body);
    expect(scoped.lives?.total).toBe((await get("/api/lives?item=main%20seal&mode=wear&limit=1")).body.total);
    expect(scoped.groups.find(({ rule }) => rule === "hours exceed dates")).toMatchObject({ count: 1, lives: 1 });
    for (const group of scoped.groups) expect(group.lives).toBeGreaterThan(0);
    const elsewhere = auditReply.parse((await get("/api/audit?serial=QX-102")).body);
    expect(elsewhere.groups.map(({ rule }) => rule)).not.toContain("hours exceed dates");
    const rows = await get("/api/audit/rows?serial=QX-102&rule=hours%20exceed%20dates");
    expect(auditRowsReply.parse(rows.body).total).toBe(0);
  });

  test("an unknown rule, table or page is a 400 that says what is taken", async () => {
    for (const query of ["rule=odd", "table=tables", "limit=0", "offset=-1", "colour=3"]) {
      const reply = await get(`/api/audit/rows?${query}`);
      expect([query, reply.status]).toEqual([query, 400]);
      expect(reply.body.error.message).not.toContain("is not understood");
    }
  });

  test("item life can leave out what is in doubt; its hash and settings say so", async () => {
    const [used, left] = [await lifeOf(seal), await lifeOf(`${seal}&audit=left-out`)];
    expect(left.definition.openAudit).toBe("left out");
    expect(left.provenance.dataHash).toBe(used.provenance.dataHash);
    expect(left.provenance.studyHash).not.toBe(used.provenance.studyHash);
    expect(used.longestAge).toBe(900);
    expect(left.longestAge).toBeLessThan(900);
    const lives = (await get("/api/lives?item=main%20seal&mode=wear&audit=left-out&limit=1000")).body;
    expect(lives.lives.find((life: { upper: number | null }) => life.upper === 900)).toBeUndefined();
    expect(await lifeOf(`${seal}&audit=used`)).toEqual(used);
  });

  test("an answer needs initials, a cell that says what it was given on, and a reason; else nothing is stored", async () => {
    expect((await send([tooMany], null)).body.error.code).toBe("initials-missing");
    expect((await send([])).status).toBe(400);
    expect((await send([{ ...tooMany, verdict: "maybe" }])).body.error.facts.place).toBe("answers.0.verdict");
    expect((await send([{ ...tooMany, who: "XX" }])).status).toBe(400);
    const outdated = await send([tooMany, { ...tooMany, was: 901 }]);
    expect([outdated.status, outdated.body.error.code]).toEqual([409, "answer-outdated"]);
    const bad = await send([{ ...tooMany, becomes: -3 }]);
    expect([bad.status, bad.body.error.code]).toEqual([422, "bad-answer"]);
    expect(answersListReply.parse((await get("/api/audit/answers")).body)).toEqual({
      total: 0,
      offset: 0,
      answers: [],
    });
  });

  test("a preview says what answers would change and stores nothing", async () => {
    const preview = (answers: readonly object[]) =>
      request(shop.app).post("/api/audit/answers?preview=true").send({ answers });
    const reply = await preview([tooMany, { ...tooMany, was: 901 }]);
    expect(reply.status).toBe(200);
    const said = answersPreview.strict().parse(reply.body);
    expect(said).toMatchObject({ cells: 1, rowsLeftOut: 0, notApplied: 1, hanging: 0 });
    expect(said.doubts.after).toBe(said.doubts.before - 1);
    // Two lives hold the run; the three modes of those items have one life each that comes out otherwise.
    expect(said.lives?.changed).toBeGreaterThanOrEqual(2);
    const excluded = await preview([{ ...tooMany, column: null, was: null, becomes: null, verdict: "exclude" }]);
    expect(answersPreview.parse(excluded.body)).toMatchObject({ cells: 0, rowsLeftOut: 1, notApplied: 0 });
    expect(answersListReply.parse((await get("/api/audit/answers")).body).total).toBe(0);
    expect((await get("/api/state")).body.dataHash).toBe(said.dataHash);
  });

  test("answers sent together are applied: studies use them, the row shows them, the doubts are gone", async () => {
    const before = await lifeOf(seal);
    const missing = auditRowsReply.parse((await get("/api/audit/rows?rule=hours%20missing")).body).rows[0];
    expect(missing?.row.key).toBe('["run QX-102-3"]');
    const accepted = {
      ...tooMany,
      key: missing?.row.key,
      was: null,
      becomes: null,
      verdict: "accept",
      rule: "hours missing",
      why: "the log is lost",
    };
    const reply = await send([tooMany, accepted]);
    expect(reply.status).toBe(201);
    const stored = answersReply.strict().parse(reply.body);
    expect(stored.answers.map(({ state, answer }) => [state, answer.who, answer.when])).toEqual([
      ["applied", "CD", "2025-06-01T12:00:00.000Z"],
      ["applied", "CD", "2025-06-01T12:00:00.000Z"],
    ]);
    const after = await lifeOf(seal);
    expect([before.longestAge, after.longestAge]).toEqual([900, 320]);
    expect(after.provenance.dataHash).toBe(stored.dataHash);
    expect((await get("/api/state")).body.dataHash).toBe(stored.dataHash);

    const { rows } = rowsReply.parse((await get("/api/rows").query({ ref: ['runs:["run QX-101-2"]'] })).body);
    expect(rows[0]).toMatchObject({
      values: { hours: 900 },
      corrections: [{ column: "hours", sheetValue: 900, state: "applied", answer: { ...tooMany, who: "CD" } }],
    });
    const audit = auditReply.parse((await get("/api/audit")).body);
    const rules = audit.groups.map(({ rule }) => rule);
    expect(rules).not.toContain("hours exceed dates");
    expect(rules).not.toContain("hours missing");
    expect(audit.answers).toBe(2);

    const listed = async (query: string) =>
      answersListReply.parse((await get(`/api/audit/answers?${query}`)).body).answers.map(({ answer }) => answer.key);
    expect(await listed("contains=LOG%20is%20LOST")).toEqual(['["run QX-102-3"]']);
    expect(await listed("contains=QX-101")).toEqual(['["run QX-101-2"]']);
    expect(await listed("state=stale")).toEqual([]);
    expect((await get("/api/audit/answers?state=odd")).status).toBe(400);
  });

  test("a reopened answer counts no longer: the sheet's value is back, and so is the doubt", async () => {
    const lost = { ...tooMany, key: '["run QX-102-3"]', was: null, becomes: null, rule: "hours missing" };
    const reopen = (of: object) => ({ ...of, verdict: "reopen", becomes: null, why: "decided too soon" });
    expect((await send([reopen(lost), reopen(tooMany)])).status).toBe(201);
    const rules = auditReply.parse((await get("/api/audit")).body).groups.map(({ rule }) => rule);
    expect(rules).toEqual(expect.arrayContaining(["hours exceed dates", "hours missing"]));
    expect((await lifeOf(seal)).longestAge).toBe(900);
    const before = await get("/api/audit/answers?state=superseded");
    expect(answersListReply.parse(before.body).total).toBe(2);
    expect((await send([tooMany, { ...lost, verdict: "accept" }])).status).toBe(201);
    expect((await lifeOf(seal)).longestAge).toBe(320);
  });

  test("an answer goes stale when the sheet changes, and the audit says so", async () => {
    const run = doubtful().runs?.find((each) => each.run === "run QX-101-2");
    await shop.store.storeBatch(batchOf({ runs: run === undefined ? [] : [{ ...run, hours: 910 }] }));
    const again = await appForTests({ store: shop.store, pool: shop.pool });
    const audit = auditReply.parse((await request(again.app).get("/api/audit")).body);
    expect(audit.stale.map(({ key, was }) => [key, was])).toEqual([['["run QX-101-2"]', 900]]);
    expect(audit.groups.map(({ rule }) => rule)).toContain("hours exceed dates");
    await rm(again.folder, { recursive: true, force: true });
  });
});

describe("taking a batch back over HTTP", () => {
  const undo = (id: string, query = "") => request(shop.app).post(`/api/batches/${id}/undo${query}`);

  test("shows first what it would change, then does it as a batch of its own, signed", async () => {
    const preview = await undo("2", "?preview=true");
    expect(preview.status).toBe(200);
    expect(undoReply.strict().parse(preview.body)).toMatchObject({
      undoes: 2,
      restored: 1,
      removed: 0,
      kept: 0,
      rows: [{ key: '["run QX-101-2"]', cells: [{ field: "hours", was: 910, becomes: 900 }] }],
      stored: null,
    });
    expect((await get("/api/batches")).body).toHaveLength(2);
    expect((await undo("2")).body.error.code).toBe("initials-missing");
    const done = await undo("2").send({ who: "CD" });
    expect(done.status).toBe(201);
    expect(undoReply.parse(done.body).stored).toMatchObject({ batch: 3, undoes: 2, who: "CD" });
    expect((await get("/api/batches")).body).toHaveLength(3);
    expect(auditReply.parse((await get("/api/audit")).body).stale).toEqual([]);
    expect((await lifeOf(seal)).longestAge).toBe(320);
  });

  test("is refused where nothing would change, and for a batch that is not there", async () => {
    const twice = await undo("2").send({ who: "CD" });
    expect([twice.status, twice.body.error.code]).toEqual([409, "nothing-to-undo"]);
    for (const id of ["99", "0", "-1", "x"]) expect((await undo(id, "?preview=true")).status).toBe(404);
    expect((await undo("1", "?preview=yes")).status).toBe(400);
  });
});

describe("taking everything along over HTTP", () => {
  test("the backup restores to the same data, and the export holds every table", async () => {
    const backup = await get("/api/backup").buffer(true).parse(bytesOf);
    expect(backup.status).toBe(200);
    expect(backup.headers["content-disposition"]).toContain("afterrun-backup-2025-06-01.tar.gz");
    const file = join(shop.folder, "backup.tar.gz");
    await writeFile(file, backup.body);
    expect((await readBackup(file)).dataHash).toBe((await get("/api/state")).body.dataHash);

    const exported = await get("/api/export.zip").buffer(true).parse(bytesOf);
    const names = Object.keys(unzipSync(new Uint8Array(exported.body))).map((name) => name.replace(/^[^/]*\//, ""));
    expect(names).toEqual(expect.arrayContaining(["datapackage.json", "answers.csv", "words.json"]));
    expect(names).toEqual(expect.arrayContaining(tableNames.map((table) => `${table}.csv`)));
  });
});

function bytesOf(response: request.Response, done: (error: Error | null, body: Buffer) => void): void {
  const parts: Buffer[] = [];
  response.on("data", (part: Buffer) => parts.push(part));
  response.on("end", () => done(null, Buffer.concat(parts)));
}
