import { expect, test } from "vitest";
import { itemLifeFixture } from "../../support/chartFixtures.ts";
import { mockRow } from "./support/mockData.ts";
import { mockPages } from "./support/mockPages.ts";
import { openPage } from "./support/openPage.ts";

const mock = mockPages();

const pathOf = (url: string) => url.slice(mock.server.address.length);

test("the scope is changed by plain lists, stands in the address, holds across views, and back and forward follow", async () => {
  const { page, complaints, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  await page.getByRole("button", { name: "Change scope" }).click();
  await page.getByRole("combobox", { name: "Item", exact: true }).selectOption("main seal");
  await page.getByRole("combobox", { name: "Failure mode" }).selectOption("leak");
  await page.getByRole("combobox", { name: "Size" }).selectOption("6.5");
  await page.getByLabel("From").fill("2024-01-01");
  await page.getByLabel("To", { exact: true }).fill("2026-12-31");
  const narrowed = "?size=6.5&item=main+seal&mode=leak&from=2024-01-01&to=2026-12-31";
  await expect.poll(() => pathOf(page.url())).toBe(`/what-fails${narrowed}`);
  expect(await page.locator(".scope-sentence").textContent()).toBe("Main seal, leak, 6 1/2 in, 2024–2026");
  await page.keyboard.press("Escape");
  expect(await page.getByRole("combobox").count()).toBe(0);

  await page.getByRole("link", { name: "How long does it last?" }).click();
  await expect.poll(() => pathOf(page.url())).toBe(`/item-life${narrowed}`);
  await expect.poll(() => mock.server.asked).toContain(`GET /api/item-life${narrowed}`);
  await page.goBack();
  await expect.poll(() => pathOf(page.url())).toBe(`/what-fails${narrowed}`);
  await page
    .getByRole("heading", { name: /Modes|What fails/ })
    .first()
    .waitFor();
  await page.goBack();
  await expect.poll(() => page.locator(".scope-sentence").textContent()).not.toContain("2026");
  await page.goForward();
  await expect.poll(() => page.locator(".scope-sentence").textContent()).toBe("Main seal, leak, 6 1/2 in, 2024–2026");
  expect(complaints).toEqual([]);
  await close();
});

test("a shared address opens the same question", async () => {
  const address = "/item-life?size=6.5&item=main+seal&mode=extrusion&age=300&confidence=0.95&missing=all+high";
  const { page, close } = await openPage(mock.browser, mock.server.address + address);
  expect(mock.server.asked).toContain(`GET /api${address}`);
  expect(await page.title()).toBe("Item life · Afterrun");
  await close();
});

test("the age at which reliability is stated is asked for in the table", async () => {
  const { page, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=extrusion`,
  );
  await page.getByLabel(/^Age in hours/).fill("300");
  await page.keyboard.press("Enter");
  await expect.poll(() => mock.server.asked).toContain("GET /api/item-life?item=main+seal&mode=extrusion&age=300");
  await close();
});

test("by keyboard: skip link, marks by arrow keys with their read-out, Enter shows the rows behind", async () => {
  const { page, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=extrusion`,
  );
  await page.keyboard.press("Tab");
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Skip to the answer");
  await page.keyboard.press("Enter");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("view");

  const chart = page.locator(".chart").nth(2);
  await chart.locator('[data-mark][tabindex="0"]').first().focus();
  const first = await chart.locator(".read-out").textContent();
  await page.keyboard.press("ArrowDown");
  const second = await chart.locator(".read-out").textContent();
  expect(first).not.toBe("");
  expect(second).not.toBe(first);
  expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toBe(second);
  await page.keyboard.press("Enter");
  await page.getByText("As it was written").first().waitFor();
  expect(mock.server.asked.some((asked) => asked.startsWith("GET /api/lives?study=a41e08c7d3f2&id="))).toBe(true);
  expect(await page.getByText("runs_2025.csv, line 214").count()).toBeGreaterThan(0);
  await close();
});

test("hover says what keyboard focus says", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  const chart = page.locator(".chart").first();
  const mark = chart.locator("[data-mark]").first();
  await mark.hover();
  const hovered = await chart.locator(".read-out").textContent();
  await page.mouse.move(0, 0);
  await mark.focus();
  expect(await chart.locator(".read-out").textContent()).toBe(hovered);
  expect(hovered).toBe(await mark.getAttribute("aria-label"));
  await close();
});

test("a click in the ranking narrows the scope to what was clicked", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  const mark = page.locator('.chart [data-item="J2"][data-mode="back-off"]').first();
  await mark.click();
  await expect.poll(() => pathOf(page.url())).toBe("/what-fails?item=J2&mode=back-off");
  await close();
});

test("rows that are not stored any more are named beside those that are", async () => {
  mock.server.replies.set("/api/rows", (url) => {
    const refs = url.searchParams.getAll("ref").map((text) => {
      const cut = text.indexOf(":");
      return { table: text.slice(0, cut) as Parameters<typeof mockRow>[0]["table"], key: text.slice(cut + 1) };
    });
    return { body: { rows: refs.slice(1).map(mockRow), missing: refs.slice(0, 1) } };
  });
  const { page, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=extrusion`,
  );
  await page
    .getByRole("button", { name: /^Show rows/ })
    .first()
    .click();
  await page.getByText("As it was written").first().waitFor();
  expect(await page.getByText(/^Not in the records any more: /).count()).toBe(1);
  await close();
});

test("names that look like markup stay text", async () => {
  const { page, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=extrusion`,
  );
  await page
    .getByRole("button", { name: /^Show rows/ })
    .first()
    .click();
  await page.getByText("<img src=x").first().waitFor();
  expect(await page.locator("main img").count()).toBe(0);
  expect(await page.title()).toBe("Item life · Afterrun");
  await close();
});

test("light and dark follow the system until chosen; the choice stays", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records`, { theme: "dark" });
  const theme = () => page.evaluate(() => document.documentElement.dataset.theme);
  expect(await theme()).toBe("dark");
  await page.getByRole("button", { name: "Light page" }).click();
  expect(await theme()).toBe("light");
  await page.reload();
  await page.waitForSelector("main");
  expect(await theme()).toBe("light");
  await page.getByRole("button", { name: "Dark page" }).click();
  expect(await theme()).toBe("dark");
  await page.emulateMedia({ colorScheme: "light" });
  await expect.poll(theme).toBe("light");
  await close();
});

test("the list of questions folds away when narrow", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`, { width: 390 });
  expect(await page.getByRole("link", { name: /^Records/ }).isVisible()).toBe(false);
  await page.getByRole("button", { name: "Questions" }).click();
  await page.getByRole("link", { name: /^Records/ }).click();
  await expect.poll(() => pathOf(page.url())).toBe("/records");
  expect(await page.getByRole("link", { name: /^Records/ }).isVisible()).toBe(false);
  await close();
});

test("a serial in a table leads to its history, and the picker filters", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/tool-history`);
  await page.getByLabel("Part of a serial, type or status").fill("-017");
  expect(await page.getByText("1 of 34 serials").count()).toBe(1);
  await page.getByRole("link", { name: "AD650-017" }).click();
  await expect.poll(() => pathOf(page.url())).toBe("/tool-history/AD650-017");
  await page
    .getByRole("button", { name: /^Show rows of Run/ })
    .first()
    .click();
  await page.getByText("As it was written").first().waitFor();
  await close();
});

test("a refused answer is told in the server's words and can be asked again", async () => {
  mock.server.replies.set("/api/what-fails", () => ({
    status: 503,
    body: { error: { code: "study-too-long", message: "The answer was not ready after 30 seconds.", facts: {} } },
  }));
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  await page.getByText("The answer was not ready after 30 seconds.").waitFor();
  mock.server.replies.clear();
  await page.getByRole("button", { name: "Try again" }).click();
  await page.locator(".answer").waitFor();
  await close();
});

test("a part of the page that does not arrive is told, and can be asked for again", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/what-fails`);
  await page.locator(".answer").waitFor();
  await page.route("**/assets/PracticeView-*", (route) => route.abort());
  await page.getByRole("link", { name: /Build practice/ }).click();
  await page.getByText("The server did not send this part of the page.").waitFor();
  await page.unroute("**/assets/PracticeView-*");
  await page.getByRole("button", { name: "Try again" }).click();
  await page.locator(".answer").waitFor();
  await close();
});

test("the bounds of the steps can be made to hold the whole curve at once; the file follows", async () => {
  const life = itemLifeFixture({ evident: true });
  const { steps } = life.nonparametric;
  const band = {
    confidence: 0.9,
    method: "equal precision, log-log",
    fromAge: 20,
    toAge: 200,
    lower: steps.map(({ lower }) => (lower === null ? null : 0.8 * lower)),
    upper: steps.map(({ upper }) => upper),
  } as const;
  mock.server.replies.set("/api/item-life", () => ({
    body: { ...life, nonparametric: { ...life.nonparametric, band } },
  }));
  const { page, complaints, close } = await openPage(
    mock.browser,
    `${mock.server.address}/item-life?item=main+seal&mode=leak`,
  );
  const lower = page.locator(".chart").first().locator('[data-marks="steps"] path[stroke-dasharray="3 3"]').first();
  const before = await lower.getAttribute("d");
  await page.getByRole("checkbox", { name: /hold the whole curve at once, from 20 h to 200 h/ }).check();
  await expect.poll(() => lower.getAttribute("d")).not.toBe(before);
  expect(complaints).toEqual([]);
  await close();
});
