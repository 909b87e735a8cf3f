// The board in the page: which tools are listed, hours tried in place, a fleet of hundreds.
import { expect, test } from "vitest";
import type { FleetResult } from "../../../analysis/index.ts";
import { fleetFixture } from "../../support/chartFixtures/decisions.ts";
import { mockPages } from "./support/mockPages.ts";
import { openPage } from "./support/openPage.ts";

const mock = mockPages();

const board = fleetFixture();
const replyWith = (result: FleetResult) =>
  mock.server.replies.set("/api/fleet", () => ({ body: result, events: [{ event: "result", data: result }] }));

test("tools are listed by reading, and found by a part of a serial", async () => {
  const { page, complaints, close } = await openPage(mock.browser, `${mock.server.address}/fleet`);
  const rows = page.locator(".board-filter + div tbody tr:not(.group)");
  expect(await rows.count()).toBe(board.tools.length);
  const first = board.tools[0]!;
  const same = board.tools.filter(({ reading }) => reading === first.reading);
  await page.getByRole("button", { name: new RegExp(`^${first.reading} ${same.length}$`, "i") }).click();
  expect(await rows.count()).toBe(same.length);
  await page.getByLabel("Part of a serial, type or place").fill(first.serial.toLowerCase());
  expect(await rows.count()).toBe(1);
  expect(await rows.first().textContent()).toContain(first.serial);
  await page.getByLabel("Part of a serial, type or place").fill("no such tool");
  await page.getByText("No tool here has “no such tool” in it.").waitFor();
  expect(complaints).toEqual([]);
  await close();
});

test("other hours are tried in place: longer runs carry more, and what was tried stays when the list changes", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/fleet`);
  const tool = board.tools.find(({ chance, reading }) => chance.value !== null && reading === "inside its limit")!;
  const box = page.getByLabel(`Hours of the next run of ${tool.serial}`);
  const chance = () =>
    page
      .locator("tr", { has: box })
      .locator("strong")
      .textContent()
      .then((text) => Number.parseFloat(text ?? ""));
  await box.fill("10");
  const short = await chance();
  await box.fill("200");
  expect(await chance()).toBeGreaterThan(short);
  await page.getByRole("button", { name: /^Inside its limit/ }).click();
  expect(await box.inputValue()).toBe("200");
  await close();
});

test("of a fleet of hundreds a hundred are shown at first, and more when asked for", async () => {
  const tools = Array.from({ length: 250 }, (_, index) => ({
    ...board.tools[index % board.tools.length]!,
    serial: `T-${index}`,
    reading: "inside its limit" as const,
  }));
  replyWith({ ...board, tools });
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/fleet`);
  expect(await page.locator(".hours-box").count()).toBe(100);
  await page.getByRole("button", { name: /^Show 100 more of 150/ }).click();
  expect(await page.locator(".hours-box").count()).toBe(200);
  await page.getByRole("button", { name: /^Show 50 more of 50/ }).click();
  expect(await page.locator(".hours-box").count()).toBe(250);
  await page.getByText("The 100 tools with the highest chance are drawn").waitFor();
  await close();
});
