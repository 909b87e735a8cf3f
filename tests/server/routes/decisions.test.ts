// Redress interval and fleet over HTTP, on a small invented fleet: contract, progress, tables.
import request from "supertest";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { fleetResult, redressIntervalResult } from "../../../server/contracts/decisions.ts";
import { createStudyPool } from "../../../server/work/studyPool.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf } from "../../support/smallShop.ts";

let shop: AppForTests;
let pool: ReturnType<typeof createStudyPool>;
beforeAll(async () => {
  const { recorded } = simulateFleet({ ...defaultFleet, serials: 14, to: "2024-12-31" });
  pool = createStudyPool({ timeoutMs: 60_000, watchedTimeoutMs: 120_000 });
  const decided = {
    ...{ tool_type: "axial damper", item: "whole tool", dated_on: "2024-01-01" },
    ...{ statement: "From this date we redress at 150 h.", interval_h: 150 },
  };
  const decisions = [...(recorded.decisions ?? []), decided];
  shop = await appForTests({ batches: [batchOf({ ...recorded, decisions })], pool });
});
afterAll(async () => {
  await pool.close();
  await shop.close();
});
const get = (address: string) => request(shop.app).get(address).timeout(50_000);

describe.each([
  ["/api/redress-interval?type=axial%20damper", redressIntervalResult, "playing policies run by run"],
  ["/api/fleet", fleetResult, "playing the year ahead"],
] as const)("%s", (address, contract, doing) => {
  test("comes back as the contract says; watched, it tells how far it is and then the same result", async () => {
    const events = (await get(address).set("accept", "text/event-stream").buffer(true)).text
      .trim()
      .split("\n\n")
      .map((block) => ({
        event: /^event: (.*)$/m.exec(block)?.[1],
        data: JSON.parse(/^data: (.*)$/m.exec(block)?.[1] ?? "null") as { share: number; doing: string },
      }));
    const told = events.filter(({ event }) => event === "progress").map(({ data }) => data);
    const shares = told.map(({ share }) => share);
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBeLessThanOrEqual(1);
    expect(told.map((one) => one.doing)).toContain(doing);
    expect(events.at(-1)?.event).toBe("result");
    const reply = await get(address);
    expect(reply.status, JSON.stringify(reply.body).slice(0, 400)).toBe(200);
    contract.parse(reply.body);
    expect(events.at(-1)?.data).toEqual(reply.body);
  });
});

test("what came of the decision in the middle of the records: in the result, and as a table of the same numbers", async () => {
  const address = "/api/redress-interval?type=axial%20damper";
  const { sinceDecided } = redressIntervalResult.parse((await get(address)).body);
  expect(sinceDecided).toMatchObject({ state: "compared", countedFrom: "2023-01-01", decision: { intervalH: 150 } });
  const { total, modes } = sinceDecided!;
  const csv = await get(`${address}&format=csv&table=since`);
  expect(csv.headers["content-disposition"]).toContain("redress-interval-since.csv");
  const lines = csv.text.trimEnd().split("\r\n");
  expect(lines).toHaveLength(2 + modes.length);
  const { before, after, ratio } = total.asTheyCame;
  expect(lines[1]).toContain(
    [
      "All together",
      before.failures,
      before.hours,
      after.failures,
      after.hours,
      ratio.value,
      ratio.lower,
      ratio.upper,
    ].join(),
  );
});
