import request from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { fitChecks, groupsCompared, lookSensitivity } from "../../../server/contracts/parts.ts";
import { itemLifeResult } from "../../../server/contracts/results.ts";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";
import { batchOf, smallShop } from "../../support/smallShop.ts";

let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests({ batches: [batchOf(smallShop())] });
});
afterAll(() => shop.close());
const get = (address: string) => request(shop.app).get(address);
const seal = "item=main%20seal&mode=wear";

test("the parts come back as their contracts say, computed once", async () => {
  const first = await get(`/api/item-life/checks?${seal}`);
  expect(first.status).toBe(200);
  expect(fitChecks.strict().parse(first.body)).toMatchObject({ kind: "checks", why: null });
  const looks = await get(`/api/item-life/looks?${seal}`);
  expect(lookSensitivity.strict().parse(looks.body).detection).toHaveLength(4);
  const groups = await get(`/api/item-life/groups?${seal}&by=tool-type`);
  expect(groupsCompared.strict().parse(groups.body)).toMatchObject({ by: "tool type", compared: null });
  const began = performance.now();
  expect((await get(`/api/item-life/checks?${seal}`)).body).toEqual(first.body);
  expect(performance.now() - began).toBeLessThan(500);
});

test("as events: progress that rises, then the part; what is refused comes as an error in words", async () => {
  const events = async (address: string) => {
    const reply = await get(address)
      .set("accept", "text/event-stream")
      .buffer(true)
      .parse((response, done) => {
        let text = "";
        response.on("data", (chunk: Buffer) => {
          text += chunk.toString();
        });
        response.on("end", () => done(null, text));
      });
    return String(reply.body)
      .split("\n\n")
      .filter((block) => block !== "")
      .map((block) => {
        const [event = "", data = ""] = block.split("\n");
        return { event: event.slice(7), data: JSON.parse(data.slice(6)) };
      });
  };
  const all = await events(`/api/item-life/checks?${seal}&confidence=0.8`);
  const shares = all.filter(({ event }) => event === "progress").map(({ data }) => data.share);
  expect(shares.length).toBeGreaterThan(10);
  expect([...shares].sort((a, b) => a - b)).toEqual(shares);
  expect(all.at(-1)?.event).toBe("part");
  expect(fitChecks.parse(all.at(-1)?.data).kind).toBe("checks");
  const refused = await events(`/api/item-life/groups?${seal}&by=size&first=9`);
  expect(refused.at(-1)).toMatchObject({ event: "error", data: { error: { code: "bad-setting" } } });
});

test.each([
  ["groups?item=main%20seal&mode=wear", "by"],
  ["groups?item=main%20seal&mode=wear&by=colour", "by"],
  ["checks?item=main%20seal&mode=wear&shape=3-2", "shape"],
  ["checks?item=main%20seal&mode=wear&bounds=wide", "bounds"],
  ["looks?item=main%20seal&mode=wear&sides=upper", "sides"],
])("%s is refused, naming the parameter", async (address, parameter) => {
  const reply = await get(`/api/item-life/${address}`);
  expect(reply.status).toBe(400);
  expect(reply.body.error.facts.parameter).toBe(parameter);
});

test("bounds, sides and shape that are asked for in the address are in the answer", async () => {
  const reply = await get(`/api/item-life?${seal}&bounds=by-serial&sides=lower&confidence=0.95`);
  const result = itemLifeResult.parse(reply.body);
  expect(result.definition).toMatchObject({ bounds: "by serial", sides: "lower" });
  expect(result.readings.b10).toMatchObject({ method: "bootstrap by serial", sides: "lower", upper: null });
  const shaped = itemLifeResult.parse((await get(`/api/item-life?${seal}&shape=1.5-3`)).body);
  expect(shaped.shapeTaken).toMatchObject({ kind: "prior", low: 1.5, high: 3, sure: 0.9 });
});
