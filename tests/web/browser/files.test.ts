import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { mockState } from "./support/mockData.ts";
import { mockPages } from "./support/mockPages.ts";
import { openPage } from "./support/openPage.ts";

const mock = mockPages();

async function saved(page: Page, act: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent("download"), act()]);
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

test("a picture is saved as SVG, as PNG at twice its size, and its numbers as CSV", async () => {
  const { page, complaints, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=extrusion`,
  );
  const chart = page.locator(".chart").first();
  const size = await chart
    .locator("svg")
    .evaluate((svg) => [svg.getAttribute("width"), svg.getAttribute("height")].map(Number));

  const svg = await saved(page, () => chart.getByRole("button", { name: "SVG" }).click());
  expect(svg.name).toBe("main-seal-extrusion-survival.svg");
  expect(svg.bytes.toString("utf8")).toMatch(/^<svg xmlns="http:\/\/www.w3.org\/2000\/svg"/);
  expect(svg.bytes.toString("utf8")).not.toMatch(/class=|var\(--|tabindex/);

  const png = await saved(page, () => chart.getByRole("button", { name: "PNG" }).click());
  expect(png.bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
  expect([png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)]).toEqual(size.map((side) => Math.floor(side * 2)));

  const csv = await saved(page, () => chart.getByRole("button", { name: "CSV" }).click());
  expect(csv.bytes.toString("utf8").split("\r\n").length).toBeGreaterThan(20);
  expect(complaints).toEqual([]);
  await close();
});

test("a table is saved with its full numbers", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  const csv = await saved(page, () => page.getByRole("button", { name: /^Save as CSV\s+Failure modes/ }).click());
  const [header, first] = csv.bytes.toString("utf8").split("\r\n");
  expect(csv.name).toBe("what-fails.csv");
  expect(header).toBe(
    'Tool type,Item,Mode,Failures,Brought back (tools),"Rate (per 1,000 h)","5 % below (per 1,000 h)","5 % above (per 1,000 h)",Observed (h),Hours counted',
  );
  expect(first).toMatch(/^axial damper,main seal,extrusion,61,12,1\.17\d+,0\.9\d+,1\.4\d+,[\d.]+,inspected$/);
  await close();
});

test("from dropped sheets to the first answer: preview, confirmations, word, initials, store", async () => {
  mock.server.replies.set("/api/state", () => ({ body: mockState({ batches: 0 }) }));
  const { page, complaints, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  await page.getByRole("link", { name: "Drop in sheets" }).click();
  await page.locator('input[type="file"]').setInputFiles([
    { name: "runs_2026.csv", mimeType: "text/csv", buffer: Buffer.from("Run no;Tool\n1;AD650-017\n") },
    { name: "builds.csv", mimeType: "text/csv", buffer: Buffer.from("Redress;Tool\n1;AD650-017\n") },
  ]);
  await expect.poll(() => page.url()).toBe(`${mock.server.address}/records/drop?drop=d1`);
  expect(await page.locator(".answer").textContent()).toBe(
    "1 sheet, 412 lines: 371 new, 32 unchanged, 3 changed, 6 set aside. 2 things to confirm first.",
  );
  await page.getByText("31/02/26").first().waitFor();
  expect(await page.getByText("42 h").count()).toBe(1);
  expect(await page.getByText("62.5 h").count()).toBe(1);
  const store = page.getByRole("button", { name: "Store this drop" });
  expect(await store.isDisabled()).toBe(true);

  await page.getByLabel("What “washed” means").selectOption("planned");
  await page.getByRole("button", { name: "Remember this word" }).click();
  await expect.poll(() => store.isDisabled()).toBe(false);
  await page.getByLabel(/^Your initials/).fill("KJ");
  mock.server.replies.clear();
  await store.click();
  await page.getByText("Stored as drop 4").waitFor();
  expect(mock.server.asked).toContain("POST /api/drops/d1/store");
  await page.getByRole("link", { name: "See what fails" }).click();
  await page.locator(".chart svg").first().waitFor();
  expect(await page.evaluate(() => window.localStorage.getItem("afterrun.initials"))).toBe("KJ");
  expect(complaints).toEqual([]);
  await close();
});

test("all that is shown is confirmed at once", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records/drop?drop=d1`);
  await page.getByRole("button", { name: "Yes to all 2 shown here" }).click();
  await page.getByText("Everything is confirmed.").waitFor();
  expect(mock.server.asked).toContain("POST /api/drops/d1/answers");
  await close();
});

test("a drop that is no longer held says so and offers a new one", async () => {
  mock.server.replies.set("/api/drops/gone", () => ({
    status: 404,
    body: { error: { code: "drop-not-found", message: "This drop is no longer held.", facts: {} } },
  }));
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records/drop?drop=gone`);
  await page.getByText("This drop is no longer held.").waitFor();
  await page.getByRole("link", { name: "Drop in sheets" }).click();
  await page.locator('input[type="file"]').waitFor();
  await close();
});
