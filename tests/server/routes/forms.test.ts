// Rows written in a form: looked at first, stored as a batch like any sheet, rebuilt from the journal like any sheet.
import request from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { storedBatch } from "../../../server/contracts/api.ts";
import { rowHistoryReply } from "../../../server/contracts/audit.ts";
import { formPreview } from "../../../server/contracts/forms.ts";
import { rebuildStore } from "../../../server/storage/rebuildStore.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf, smallShop } from "../../support/smallShop.ts";

let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests({ batches: [batchOf(smallShop())], clock: () => new Date("2025-06-01T12:00:00Z") });
});
afterAll(() => shop.close().catch(() => undefined));

const post = (address: string, body: object) => request(shop.app).post(address).send(body);
const get = (address: string) => request(shop.app).get(address);
const teardown = {
  table: "teardowns",
  values: { teardown: "T-900", serial: "", done_on: "2025-05-30", why: "planned", scope: ["main seal"] },
};
const finding = {
  table: "findings",
  values: { teardown: "T-900", item: "main seal", condition: "extrusion", severity: 3 },
};

test("a finding at the teardown table: previewed as new, stored as one batch, read back, changed, unchanged", async () => {
  const serial = (await get("/api/state")).body.choices.serials[0].serial;
  const rows = [{ ...teardown, values: { ...teardown.values, serial } }, finding];
  const preview = formPreview.parse((await post("/api/forms/preview", { rows })).body);
  expect(preview.rows.map(({ what }) => what)).toEqual(["new", "new"]);
  expect(preview).toMatchObject({ problems: [], ready: true });
  expect(
    (await get("/api/forms/findings")).body.filter((row: { teardown: string }) => row.teardown === "T-900"),
  ).toEqual([]);

  const stored = await post("/api/forms", { rows, who: "AB" });
  expect(stored.status).toBe(201);
  const batch = storedBatch.parse(stored.body);
  expect(batch.files.map(({ file }) => file)).toEqual([
    "form AB 2025-06-01 12.00, teardowns.csv",
    "form AB 2025-06-01 12.00, findings 2.csv",
  ]);
  const key = JSON.stringify(["T-900", "main seal", "extrusion"]);
  const { rows: found } = (await get(`/api/rows?ref=${encodeURIComponent(`findings:${key}`)}`)).body;
  expect(found[0]).toMatchObject({ values: { severity: 3, condition: "extrusion" }, origin: { line: 2 } });

  const milder = [{ ...finding, values: { ...finding.values, severity: 2 } }];
  const changed = formPreview.parse((await post("/api/forms/preview", { rows: milder })).body);
  expect(changed.rows).toEqual([
    { row: { table: "findings", key }, what: "changed", cells: [{ field: "severity", was: 3, becomes: 2 }] },
  ]);
  expect(formPreview.parse((await post("/api/forms/preview", { rows: [finding] })).body).rows[0]?.what).toBe(
    "unchanged",
  );
});

test("a cell put right keeps why; its history names both values, the forms, who and when, and the answer beside them", async () => {
  const milder = [{ ...finding, values: { ...finding.values, severity: 2 } }];
  const stored = await post("/api/forms", { rows: milder, who: "CD", why: "  measured again " });
  expect(storedBatch.parse(stored.body).why).toBe("measured again");
  const key = JSON.stringify(["T-900", "main seal", "extrusion"]);
  const answer = { table: "findings", key, column: "severity", was: 2, becomes: 3, verdict: "correct", rule: null };
  expect((await post("/api/audit/answers", { who: "EF", answers: [{ ...answer, why: "photo" }] })).status).toBe(201);

  const history = (query: object) => get("/api/rows/history").query(query);
  const { row, field, steps } = rowHistoryReply.parse(
    (await history({ ref: `findings:${key}`, field: "severity" })).body,
  );
  expect([row, field]).toEqual([{ table: "findings", key }, "severity"]);
  expect(
    steps.map((step) => [step.row ?? step.field, step.was, step.becomes, step.by.kind, step.who, step.why]),
  ).toEqual([
    ["brought in", null, null, "drop", "AB", null],
    ["severity", null, 3, "drop", "AB", null],
    ["severity", 3, 2, "drop", "CD", "measured again"],
    ["severity", 2, 3, "answer", "EF", "photo"],
  ]);
  const unknown = await history({ ref: 'findings:["none","x","y"]' });
  expect([unknown.status, unknown.body.error.code]).toEqual([404, "row-not-found"]);
  const wrongField = await history({ ref: `findings:${key}`, field: "hours" });
  expect([wrongField.status, wrongField.body.error.facts.expected]).toEqual([400, "field name"]);
});

test("what a field does not take is told at its field, and nothing is stored", async () => {
  const before = (await get("/api/batches")).body.length;
  const wrong = [
    { table: "runs", values: { run: "R-1", serial: "X", out_on: "31.12.2024", pulled_because: "planned" } },
    { table: "runs", values: { run: "R-2", serial: "X", out_on: "2024-12-31", pulled_because: "bored" } },
    { table: "runs", values: { run: "R-3", serial: "X", out_on: "2024-12-31", pulled_because: "planned", hours: -4 } },
    { table: "findings", values: { teardown: "T-1", item: "J1" } },
    { table: "findings", values: { teardown: "T-1", item: "J1", condition: "sound", __proto__x: 1 } },
  ];
  const { problems, ready } = formPreview.parse((await post("/api/forms/preview", { rows: wrong })).body);
  expect(ready).toBe(false);
  expect(problems.filter(({ severity }) => severity === "error").map(({ code, column }) => [code, column])).toEqual([
    ["not-a-date", "out_on"],
    ["word-not-known", "pulled_because"],
    ["below-minimum", "hours"],
    ["missing-required", "condition"],
    ["no-such-column", "__proto__x"],
  ]);
  expect((await post("/api/forms", { rows: wrong, who: "AB" })).status).toBe(422);
  expect((await post("/api/forms", { rows: [finding] })).body.error.code).toBe("initials-missing");
  expect((await get("/api/batches")).body).toHaveLength(before);
});

test("a job to come, a count, a cost and a decision go the way of every form, and a cost needs its currency", async () => {
  const serial = (await get("/api/state")).body.choices.serials[0].serial;
  const cost = { what: "planned redress", tool_type: "all", dated_on: "2025-06-01", amount: 6000.5, currency: "EUR" };
  const rows = [
    { table: "planned_runs", values: { serial, start_on: "2025-06-20", hours: 55, max_temperature_C: 110 } },
    { table: "stock", values: { kit: "K-1", on_hand: 3, lead_time_d: 35, counted_on: "2025-06-01" } },
    { table: "costs", values: cost },
    {
      table: "decisions",
      values: { tool_type: "all", item: "whole tool", dated_on: "2025-06-01", statement: "At 150 h.", interval_h: 150 },
    },
  ];
  const { currency: _currency, ...bare } = cost;
  const wrong = [
    { table: "costs", values: bare },
    { table: "costs", values: { ...cost, what: "coffee" } },
    { table: "planned_runs", values: { serial: "NOBODY-1", start_on: "2025-06-20" } },
  ];
  const refused = formPreview.parse((await post("/api/forms/preview", { rows: wrong })).body);
  expect(refused.problems.map(({ code, column }) => [code, column])).toEqual([
    ["missing-required", "currency"],
    ["word-not-known", "what"],
    ["link-not-found", "serial"],
  ]);
  expect(refused.ready).toBe(false);

  const before = (await get("/api/item-life?item=main%20seal&mode=wear")).body;
  expect((await post("/api/forms", { rows, who: "AB" })).status).toBe(201);
  for (const { table, values } of rows) expect((await get(`/api/forms/${table}`)).body).toMatchObject([values]);
  const after = (await get("/api/item-life?item=main%20seal&mode=wear")).body;
  expect([after.counts, after.histories]).toEqual([before.counts, before.histories]);

  const counted = [{ table: "stock", values: { kit: "K-1", on_hand: 2 } }];
  expect(formPreview.parse((await post("/api/forms/preview", { rows: counted })).body).rows).toEqual([
    {
      row: { table: "stock", key: '["K-1"]' },
      what: "changed",
      cells: [{ field: "on_hand", was: 3, becomes: 2 }],
    },
  ]);
});

test("a table of another name has no form", async () => {
  expect((await get("/api/forms/passwords")).status).toBe(404);
  expect((await post("/api/forms/preview", { rows: [{ table: "passwords", values: {} }] })).status).toBe(400);
});

test("what forms wrote is rebuilt from the journal to equal hashes", async () => {
  await shop.store.close();
  expect(await rebuildStore({ folder: shop.folder })).toMatchObject({ equal: true });
});
