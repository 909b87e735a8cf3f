import request from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type AppForTests, appForTests } from "../../support/appForTests.ts";

let shop: AppForTests;
beforeAll(async () => {
  shop = await appForTests();
});
afterAll(() => shop.close());

test.each([
  ["/api/item-life?size=big", "size"],
  ["/api/item-life?size=-1", "size"],
  ["/api/item-life?size=1e999", "size"],
  ["/api/item-life?size=", "size"],
  ["/api/item-life?item=", "item"],
  ["/api/item-life?item=a&item=b", "item"],
  [`/api/item-life?customer=${"x".repeat(201)}`, "customer"],
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
])("%s is a 400 that names the parameter", async (address, parameter) => {
  const reply = await request(shop.app).get(address);
  expect(reply.status).toBe(400);
  expect(reply.body.error).toMatchObject({ code: "bad-parameter", facts: { parameter } });
  expect(reply.body.error.message).toContain(`"${parameter}"`);
});
