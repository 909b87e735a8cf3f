// The statistics of an item's life as a reader meets them: the real server on the sample fleet, the built page, a real browser.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openPage } from "./support/openPage.ts";
import { openRealShop, type RealShop } from "./support/realShop.ts";

const patience = { timeout: 60_000 };
let shop: RealShop;
beforeAll(async () => {
  shop = await openRealShop();
});
afterAll(() => shop?.close());

const readAnswer = async (page: Page) => (await page.locator(".answer").first().textContent()) ?? "";
const open = async (address: string) => {
  const opened = await openPage(shop.browser, `${shop.address}item-life${address}`);
  await opened.page.locator(".answer").first().waitFor(patience);
  return opened;
};
const fold = (page: Page, title: string) =>
  page.locator("details", { has: page.locator("summary", { hasText: title }) }).last();
const leak = "?item=main+seal&mode=leak";

test("tools that differ have bounds by serial, said so; another way, and one side only, are one step away", async () => {
  const { page, complaints, close } = await open(leak);
  const bounds = fold(page, "Bounds ");
  expect(await bounds.locator("summary").textContent()).toMatch(/by serial, because the tools do not all last alike/);
  const usual = await readAnswer(page);
  await bounds.locator("summary").click();
  await bounds.getByRole("combobox").selectOption("likelihood ratio");
  await expect.poll(() => page.url(), patience).toContain("bounds=likelihood+ratio");
  await expect.poll(() => readAnswer(page), patience).not.toBe(usual);
  // The estimate stays, only its bounds move.
  expect((await readAnswer(page)).split("(")[0]).toBe(usual.split("(")[0]);
  await fold(page, "Bounds ").getByRole("checkbox").check();
  await expect.poll(() => readAnswer(page), patience).toMatch(/\(at least \d+, 90 %\)/);
  expect(page.url()).toContain("sides=lower");
  expect(await page.getByRole("columnheader", { name: "10 % below" }).count()).toBe(1);
  expect(complaints).toEqual([]);
  await close();
});

test("another law is one click away, stands in the address and in the answer", async () => {
  const { page, complaints, close } = await open(leak);
  await page.getByRole("link", { name: /^Lognormal/ }).click();
  await expect.poll(() => readAnswer(page), patience).toContain("by the lognormal law");
  expect(page.url()).toContain("law=lognormal");
  await page.getByRole("link", { name: "smallest extreme value" }).click();
  await expect.poll(() => readAnswer(page), patience).toContain("by the smallest extreme value law");
  await page.getByRole("link", { name: /^Weibull/ }).click();
  await expect.poll(() => page.url()).not.toContain("law=");
  expect(complaints).toEqual([]);
  await close();
});

test("does the curve fit: given up, asked again, said in words, and from a failure to its rows", async () => {
  const { page, complaints, close } = await open(leak);
  const checks = fold(page, "Does the curve fit?");
  await checks.locator("summary").first().click();
  await checks.getByRole("button", { name: "Cancel" }).click();
  await checks.getByText("Given up.").waitFor();
  await checks.getByRole("button", { name: "Ask again" }).click();
  await checks.getByText("Does the curve follow the lives?").waitFor(patience);
  expect(await checks.locator("dd").count()).toBe(5);
  await checks.getByText("Numbers of these checks").click();
  await checks
    .getByRole("button", { name: /^Show rows/ })
    .first()
    .click();
  await page.locator(".record").first().waitFor(patience);
  expect(complaints).toEqual([]);
  await close();
});

test("two groups: told apart by elastomer, in words, in numbers and drawn", async () => {
  const { page, complaints, close } = await open(leak);
  const groups = fold(page, "Do two groups of these last alike?");
  await groups.locator("summary").first().click();
  await groups.getByText(/4 3\/4 in over 6 1\/2 in/).waitFor(patience);
  await groups.getByRole("combobox", { name: "Told apart by" }).selectOption("elastomer");
  await groups.getByText(/HNBR over FKM: .* times the hours/).waitFor(patience);
  expect(await groups.locator("svg [data-mark]").count()).toBe(2);
  expect(await groups.getByRole("row").count()).toBe(3);
  expect(complaints).toEqual([]);
  await close();
});

test("inspections doubted: a table of what changes if they miss something", async () => {
  const { page, close } = await open("?item=guide+band&mode=wear");
  const looks = fold(page, "What if inspections were no accident");
  await looks.locator("summary").first().click();
  await looks.getByRole("row", { name: /^100 % \(used here\)/ }).waitFor(patience);
  expect(await looks.getByRole("row").count()).toBe(5);
  await close();
});

test("few failures: a shape lent by the other modes, or written down, with what was believed drawn", async () => {
  const { page, complaints, close } = await open("?type=bypass+valve&item=J1&mode=shoulder+leak");
  const shape = fold(page, "Too few failures to tell the shape");
  await shape.locator("summary").click();
  await shape.getByRole("button", { name: "As the other modes and sizes tell" }).click();
  await expect.poll(() => readAnswer(page), patience).toContain("lent by the other modes");
  expect(page.url()).toContain("shape=pooled");
  const taken = fold(page, "The shape is taken from elsewhere");
  expect(await taken.locator("svg").count()).toBe(1);
  await taken.getByLabel(/^Shape, or a range/).fill("wide");
  await taken.getByRole("button", { name: "Take it" }).click();
  await taken.getByRole("alert").waitFor();
  await taken.getByLabel(/^Shape, or a range/).fill("1.2 to 3");
  await taken.getByRole("button", { name: "Take it" }).click();
  await expect.poll(() => readAnswer(page), patience).toContain("with a shape believed between 1.2 and 3");
  await fold(page, "The shape is taken from elsewhere").getByRole("button", { name: "From these lives alone" }).click();
  await expect.poll(() => page.url()).not.toContain("shape=");
  expect(complaints).toEqual([]);
  await close();
});
