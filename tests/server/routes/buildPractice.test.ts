// Build practice over HTTP, on a small invented fleet: contract, progress, focus, table, and words in torque cells.
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type BuildPracticeResult, practices } from "../../../analysis/index.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { buildPracticeResult } from "../../../server/contracts/buildPractice.ts";
import { numberCellTexts } from "../../../server/work/numberCellTexts.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf } from "../../support/smallShop.ts";

let shop: AppForTests;
beforeAll(async () => {
  const { recorded } = simulateFleet({ ...defaultFleet, serials: 14, to: "2024-12-31" });
  shop = await appForTests({ batches: [batchOf(recorded)] });
});
afterAll(() => shop.close());
const get = (address: string) => request(shop.app).get(address).timeout(50_000);

describe("build practice", () => {
  let result: BuildPracticeResult;

  test("comes back as the contract says, every comparison with its counts", async () => {
    const reply = await get("/api/build-practice");
    expect(reply.status, JSON.stringify(reply.body).slice(0, 400)).toBe(200);
    result = buildPracticeResult.parse(reply.body) as BuildPracticeResult;
    expect(result.comparisons.length).toBeGreaterThan(20);
    for (const { with: one, without, lives, failures } of result.comparisons) {
      expect(one.lives + without.lives).toBe(lives);
      expect(one.failures + without.failures).toBe(failures);
    }
    const names: readonly string[] = practices.map(({ id }) => id);
    expect(result.comparisons.every(({ practice }) => names.includes(practice))).toBe(true);
    expect(result.detail?.choice).toMatchObject({ practice: result.comparisons[0]?.practice });
  });

  test("tells how far it is, then the same result", async () => {
    const other = await get("/api/build-practice?type=axial%20damper").set("accept", "text/event-stream").buffer(true);
    expect(other.headers["content-type"]).toContain("text/event-stream");
    const events = other.text
      .trim()
      .split("\n\n")
      .map((block) => ({
        event: /^event: (.*)$/m.exec(block)?.[1],
        data: JSON.parse(/^data: (.*)$/m.exec(block)?.[1] ?? "null") as { share?: number; kind?: string },
      }));
    const shares = events.filter(({ event }) => event === "progress").map(({ data }) => data.share ?? Number.NaN);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(Math.max(...shares)).toBeLessThanOrEqual(1);
    expect(events.at(-1)).toMatchObject({ event: "result", data: { kind: "build practice" } });
  });

  test("looks closely at the comparison asked for; one that is not compared is a 404, half a name a 400", async () => {
    const closely = "practice=hardness&of=main%20seal&by=extrusion";
    const reply = await get(`/api/build-practice?${closely}`);
    expect(reply.body.detail.choice).toEqual({
      practice: "hardness",
      level: null,
      item: "main seal",
      mode: "extrusion",
    });
    expect(reply.body.comparisons).toEqual(result.comparisons);
    const missing = await get("/api/build-practice?practice=hardness&of=main%20seal&by=wear");
    expect([missing.status, missing.body.error.code]).toEqual([404, "practice-not-found"]);
    const half = await get("/api/build-practice?practice=hardness");
    expect(half.status).toBe(400);
    expect(half.body.error.message).toContain("`of` and `by`");
  });

  test("as a table there is one line a comparison", async () => {
    const reply = await get("/api/build-practice?format=csv");
    expect(reply.headers["content-type"]).toContain("text/csv");
    expect(reply.text.trim().split(/\r?\n/)).toHaveLength(result.comparisons.length + 1);
  });

  test("its lives are found by the hash of the study", async () => {
    const id = result.detail?.histories[0]?.lifeId ?? "";
    const reply = await get("/api/lives").query({ study: result.provenance.studyHash, id });
    expect(reply.body.lives.map((life: { id: string }) => life.id)).toEqual([id]);
  });
});

describe("words in a cell where a number belongs", () => {
  test("are read under the header that the number is read from, and only where no number came of it", async () => {
    const column = { joint: { constant: "J1" }, final_torque_Nm: { from: "J1 final", unit: "ft-lbf" } };
    const mapping = {
      version: 1,
      fingerprint: "f",
      format: { skipLines: 0, delimiter: ",", decimal: "." as const, dateOrders: {} },
      tables: [{ table: "joints" as const, columns: { redress: { from: "Build" } }, members: [column] }],
    };
    const row = (redress: string, cell: string, value: number | null) => ({
      table: "joints" as const,
      key: JSON.stringify([redress, "J1"]),
      values: { redress, joint: "J1", final_torque_Nm: value, make_break_cycles: null },
      asWritten: { Build: redress, "J1 final": cell, "J1 M&B": "3 or 4" },
      origin: { file: "f.csv", sheet: null, line: 2 },
      batch: 1,
    });
    const rows = [row("B1", "good tight", null), row("B2", "2800", 3796), row("B3", "", null), row("B4", "-", null)];
    const texts = await numberCellTexts({
      rowsOf: async (table) => (table === "joints" ? rows : []),
      rememberedMappings: async () => [mapping as never],
    });
    expect(texts).toEqual({ 'joints ["B1","J1"] final_torque_Nm': "good tight" });
  });
});
