// Words, lists and mappings out of one store and into another: what the second knows afterwards, and what it refuses.
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { DropPreview, SetupBundle } from "../../../analysis/index.ts";
import { setupBundle, setupReply } from "../../../server/contracts/setup.ts";
import { rebuildStore } from "../../../server/storage/rebuildStore.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { smallSheets } from "../../support/smallSheets.ts";

let first: AppForTests;
let second: AppForTests;
let bundle: SetupBundle;
beforeAll(async () => {
  [first, second] = await Promise.all([appForTests(), appForTests()]);
});
afterAll(async () => {
  await first.close();
  await second.close().catch(() => undefined);
});

const drop = (shop: AppForTests) => {
  const sending = request(shop.app).post("/api/drops");
  for (const [name, text] of Object.entries(smallSheets))
    sending.attach("files", Buffer.from(text), { filename: name });
  return sending;
};
const bring = (body: object, query = {}) => request(second.app).post("/api/setup").query(query).send(body);

describe("the setup of a shop", () => {
  test("goes out as one file: the words, the mappings and the lists that a drop was confirmed with", async () => {
    const preview: DropPreview = (await drop(first)).body;
    const confirm = preview.confirmations.map(({ id }) => id);
    await request(first.app).post(`/api/drops/${preview.id}/answers`).send({ confirm });
    expect((await request(first.app).post(`/api/drops/${preview.id}/store`).send({ who: "AB" })).status).toBe(201);
    const reply = await request(first.app).get("/api/setup");
    expect(reply.headers["content-disposition"]).toContain("afterrun-setup-2025-06-01.json");
    bundle = setupBundle.parse(reply.body) as SetupBundle;
    expect(bundle.mappings?.length).toBeGreaterThanOrEqual(3);
    expect(bundle.tables?.tool_items?.map(({ item }) => item)).toContain("main seal");
  });

  test("is previewed without storing, then taken in as one batch, and a second time changes nothing", async () => {
    const preview = setupReply.parse((await bring(bundle, { preview: "true" })).body);
    expect(preview).toMatchObject({ ready: true, stored: null, problems: [] });
    expect(preview.mappings.every(({ what }) => what === "new")).toBe(true);
    expect(preview.rows.length).toBeGreaterThan(0);
    expect((await request(second.app).get("/api/batches")).body).toEqual([]);
    expect((await bring(bundle)).body.error.code).toBe("initials-missing");

    const stored = await bring({ ...bundle, who: "CD" });
    expect(stored.status).toBe(201);
    expect(setupReply.parse(stored.body).stored).toMatchObject({ batch: 1, who: "CD" });
    const { words, mappings, tables } = (await request(second.app).get("/api/setup")).body;
    expect({ words, tables }).toEqual({ words: bundle.words, tables: bundle.tables });
    const unversioned = (all: SetupBundle["mappings"] = []) => all.map((mapping) => ({ ...mapping, version: 0 }));
    expect(unversioned(mappings)).toEqual(unversioned(bundle.mappings));

    const again = await bring({ ...bundle, who: "CD" });
    expect([again.status, again.body.stored, again.body.words]).toEqual([200, null, []]);
    expect(again.body.rows.every(({ what }: { what: string }) => what === "unchanged")).toBe(true);
  });

  test("lets the second store read the same sheets without a question about how", async () => {
    const preview: DropPreview = (await drop(second)).body;
    expect(preview.files.map(({ mappingIs }) => mappingIs)).toEqual(preview.files.map(() => "remembered"));
    const asked = preview.confirmations.filter(({ answered }) => !answered).map(({ kind }) => kind);
    expect(asked.filter((kind) => kind !== "tools")).toEqual([]);
  });

  test("changes only what it names: a word of another meaning, a threshold; both old and new are told", async () => {
    const [mode] = bundle.tables?.modes ?? [];
    if (mode === undefined) throw new Error("no mode");
    const part: SetupBundle = {
      afterrunSetup: 1,
      words: { conditions: { "  Nicked AT Lip ": "extrusion", ok: "wear" } },
      tables: { modes: [{ ...mode, threshold: 4 }] },
    };
    const reply = setupReply.parse((await bring({ ...part, who: "EF" })).body);
    expect(reply.words).toContainEqual({
      vocabulary: "conditions",
      phrase: "nicked at lip",
      what: "new",
      was: null,
      becomes: "extrusion",
    });
    expect(reply.rows).toMatchObject([
      { what: "changed", cells: [{ field: "threshold", was: mode.threshold, becomes: 4 }] },
    ]);
    const after: SetupBundle = (await request(second.app).get("/api/setup")).body;
    expect(after.mappings).toHaveLength(bundle.mappings?.length ?? 0);
    expect(after.words?.conditions).toMatchObject({ "nicked at lip": "extrusion", ok: "wear" });
    expect((await request(second.app).post("/api/batches/2/undo").send({ who: "EF" })).status).toBe(201);
    expect((await request(second.app).get("/api/setup")).body.tables.modes).toContainEqual(mode);
  });

  test("is refused where it is none, or holds a mapping that cannot be read under, or a row that lacks what it needs", async () => {
    const before = (await request(second.app).get("/api/batches")).body.length;
    const [mapping] = bundle.mappings ?? [];
    const codes = [];
    for (const body of [
      {},
      { afterrunSetup: 2 },
      { afterrunSetup: 1, tables: { runs: [] } },
      { afterrunSetup: 1, words: { phrases: {} } },
      { afterrunSetup: 1, tables: { modes: [{ item: "seal", mode: "x" }] } },
      { afterrunSetup: 1, mappings: [{ ...mapping, tables: [{ table: "runs", columns: { colour: { from: "A" } } }] }] },
      {
        afterrunSetup: 1,
        mappings: [{ ...mapping, tables: [{ table: "runs", columns: { run: { pattern: "(a+)+$", of: "A" } } }] }],
      },
    ]) {
      const reply = await bring({ ...body, who: "GH" });
      codes.push([reply.status, reply.body.error.code]);
    }
    expect(codes).toEqual([
      ...Array.from({ length: 5 }, () => [400, "bad-body"]),
      [400, "bad-mapping"],
      [400, "bad-mapping"],
    ]);
    expect((await request(second.app).get("/api/batches")).body).toHaveLength(before);
  });

  test("is rebuilt from the journal to equal hashes", async () => {
    await second.store.close();
    expect(await rebuildStore({ folder: second.folder })).toMatchObject({ equal: true });
  });
});
