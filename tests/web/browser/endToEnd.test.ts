// The whole way, nothing stood in for: the real server on a folder of its own, the built page, a real browser.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openPage } from "./support/openPage.ts";
import { openRealShop, type RealShop } from "./support/realShop.ts";

const sheetsOf = (folder: string) => fileURLToPath(new URL(`../../../datasets/${folder}/`, import.meta.url));
const mostConfirmations = 12;
const patience = { timeout: 60_000 };

let shop: RealShop;
beforeAll(async () => {
  shop = await openRealShop();
});
afterAll(() => shop?.close());

const answer = (page: Page) => page.locator(".answer");
const readAnswer = async (page: Page) => (await answer(page).textContent()) ?? "";
const pathOf = (page: Page) => decodeURIComponent(page.url().slice(shop.address.length - 1)).replaceAll("+", " ");

/** Where a stored row says it came from, and the cells it shows as written. */
async function firstRecord(page: Page) {
  const record = page.locator(".record").first();
  await record.waitFor(patience);
  const place = (await record.locator(".record-head .muted").textContent()) ?? "";
  const [, file = "", line = ""] = /^(.+?), line (\d+)$/.exec(place) ?? [];
  const cells = await record.locator(".cells.written dd").allTextContents();
  return { file, line: Number(line), cells };
}

test("from the first answer over a mode, its life and the rows behind it to the story of a serial", async () => {
  const { page, complaints, close } = await openPage(shop.browser, shop.address);
  await answer(page).waitFor(patience);
  expect(await readAnswer(page)).toMatch(/^The most frequent failure is .+ per 1,000 h \(.+, 90 %\)/);

  // The ranking, clicked: the item's mode with the tool type it stands under.
  await page.locator('.chart [data-type="axial damper"][data-item="J1"][data-mode="shoulder leak"]').first().click();
  await expect.poll(() => pathOf(page)).toBe("/what-fails?type=axial damper&item=J1&mode=shoulder leak");
  expect(await page.locator(".scope-sentence").textContent()).toBe("J1, shoulder leak, axial damper");

  await page.getByRole("link", { name: "How long does it last?" }).click();
  await expect
    .poll(() => readAnswer(page), patience)
    .toMatch(/of J1 .*shoulder leak.* \d+ failures among \d+ followed/);
  const before = await page.getByRole("row", { name: /Still good at h/ }).textContent();
  const age = page.getByLabel(/^Age in hours/);
  await age.fill("150");
  await age.press("Enter");
  await expect.poll(() => pathOf(page)).toContain("&age=150");
  await expect.poll(() => page.getByRole("row", { name: /Still good at h/ }).textContent(), patience).not.toBe(before);

  // A mark of the picture, down to the line of the sheet that it rests on.
  await page.locator('.chart [data-marks="lives"] [data-life]').first().click();
  const { file, line, cells } = await firstRecord(page);
  const sheet = (await readFile(join(sheetsOf("sample-fleet"), "sheets", file), "latin1")).split(/\r?\n/);
  expect(cells.length).toBeGreaterThan(2);
  for (const cell of cells.filter((text) => /^[\x20-\x7e]+$/.test(text))) expect(sheet[line - 1]).toContain(cell);

  const serial = (await page.locator('.record a[href^="/tool-history/"]').first().textContent()) ?? "";
  await page.locator('.record a[href^="/tool-history/"]').first().click();
  await expect.poll(() => readAnswer(page), patience).toMatch(new RegExp(`^${serial}, .+ has made \\d+ runs`));
  expect(await page.locator(".redress-group").count()).toBeGreaterThan(3);
  await page.getByRole("combobox", { name: "Show" }).selectOption("failures found");
  await expect.poll(() => page.locator(".event-controls").textContent()).toMatch(/\d+ of \d+ events/);

  // The address names the place: opened anew it gives the same answer.
  await page.goBack();
  await expect.poll(() => readAnswer(page), patience).toContain("shoulder leak");
  const [told, readings] = [await readAnswer(page), await page.locator("main table").first().textContent()];
  await page.reload();
  await answer(page).waitFor(patience);
  expect(await readAnswer(page)).toBe(told);
  expect(await page.locator("main table").first().textContent()).toBe(readings);
  expect(complaints).toEqual([]);
  await close();
});

test("another shop's sheets are dropped in, confirmed, stored, and answer how long its lip seal lasts", async () => {
  const { page, complaints, close } = await openPage(shop.browser, `${shop.address}records/drop`);
  const files = ["builds.csv", "jobs.csv", "strip.txt"].map((name) => join(sheetsOf("other-shop"), name));
  await page.locator("input[type=file]").setInputFiles(files);
  await expect.poll(() => readAnswer(page), patience).toMatch(/^3 sheets, 854 lines: 854 new, none set aside\./);
  expect(await page.getByText("Nothing is stored yet.").count()).toBe(1);

  // A column read otherwise, and back: the sheet is read again each time.
  const jobs = page.locator("section", { has: page.getByRole("heading", { name: "jobs.csv" }) });
  await jobs.getByText("How its 12 columns are read").click();
  const client = jobs.getByLabel("What the column Client becomes");
  await client.selectOption("");
  await jobs.getByText("Read as changed here by hand.").waitFor(patience);
  await client.selectOption("runs.customer");
  await expect
    .poll(() => jobs.getByLabel("What the column Client becomes").inputValue(), patience)
    .toBe("runs.customer");
  await expect.poll(() => client.isEnabled(), patience).toBe(true);

  // What a rebuild renews, answered otherwise: the statement that will be printed follows.
  await page.getByText("It is otherwise here").click();
  const rebuild = page.getByRole("group", { name: "A rebuild renews" });
  const give = page.getByRole("button", { name: "Read the sheet with these answers" });
  await rebuild.getByLabel("key pin").uncheck();
  await give.click();
  await page
    .getByRole("heading", { name: /A rebuild renews lip seal; .+ it carries over key pin; is that so\?/ })
    .waitFor(patience);
  await rebuild.getByLabel("key pin").check();
  await give.click();
  await page.getByRole("heading", { name: /A rebuild renews lip seal, key pin; .+ is that so\?/ }).waitFor(patience);

  const yes = page.getByRole("button", { name: /^Yes, so it is/ });
  const asked = await yes.count();
  expect(asked).toBeGreaterThan(0);
  expect(asked).toBeLessThanOrEqual(mostConfirmations);
  expect(await page.getByRole("button", { name: "Store this drop" }).isDisabled()).toBe(true);
  // The first on its own, then the others together; accepting must not bring up more than the bound in all.
  let accepted = 0;
  while ((await yes.count()) > 0) {
    const open = await yes.count();
    const all = page.getByRole("button", { name: /^Yes to all/ });
    const together = accepted > 0 && open > 1;
    await (together ? all : yes.first()).click();
    accepted += together ? open : 1;
    expect(accepted).toBeLessThanOrEqual(mostConfirmations);
    await expect.poll(() => yes.count(), patience).toBeLessThan(open);
  }

  await page.getByLabel(/^Your initials/).fill("RT");
  await page.getByRole("button", { name: "Store this drop" }).click();
  await expect.poll(() => readAnswer(page), patience).toMatch(/^Stored as drop 2: 854 new, none set aside\./);
  await page.getByRole("link", { name: "See what fails" }).click();
  await expect.poll(() => pathOf(page)).toBe("/what-fails");

  await page.getByRole("button", { name: "Change scope" }).click();
  await page.getByRole("combobox", { name: "Item", exact: true }).selectOption("lip seal");
  await page.getByRole("combobox", { name: "Failure mode" }).selectOption("extrusion");
  await page.keyboard.press("Escape");
  await page.getByRole("link", { name: "How long does it last?" }).click(patience);
  await expect
    .poll(() => readAnswer(page), patience)
    .toMatch(/lip seals? .*extrusion.* \d+ failures among \d+ followed/);
  expect(complaints).toEqual([]);
  await close();
});

test("the same sheets next week: a line set aside is mended and comes back under the same mapping, then nothing is asked", async () => {
  const { page, complaints, close } = await openPage(shop.browser, `${shop.address}records/drop`);
  const jobs = await readFile(join(sheetsOf("other-shop"), "jobs.csv"), "utf8");
  const drop = async (name: string, text: string) => {
    await page
      .locator("input[type=file]")
      .setInputFiles([{ name, mimeType: "text/csv", buffer: Buffer.from(text, "utf8") }]);
    await page.locator(".balance").waitFor(patience);
  };
  // Grown by two lines, one of them without a date out, and one cell edited.
  const grown = `${jobs.replace("68.7 h", "70.2 h").trimEnd()}\nJ-9001,SL650-09,,02/06/2025,55 h,Basin & Co.,Alder 2,280,12429,TD,,\nJ-9002,SL650-09,03/06/2025,09/06/2025,61 h,Basin & Co.,Alder 2,280,12429,TD,,\n`;
  await drop("jobs week 23.csv", grown);
  expect(await readAnswer(page)).toMatch(/1 new, 499 unchanged, 1 changed, 1 set aside/);
  const changed = page.getByRole("row", { name: /Hours/ });
  expect(await changed.getByRole("cell").allTextContents()).toEqual(["68.7 h", "70.2 h"]);

  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("link", { name: /^1 line of jobs week 23.csv/ }).click(),
  ]);
  const toMend = await readFile(await download.path(), "utf8");
  expect(toMend).toContain("why set aside");
  expect(toMend).toContain("J-9001");
  await page.getByLabel(/^Your initials/).fill("RT");
  await page.getByRole("button", { name: "Store this drop" }).click();
  await expect.poll(() => readAnswer(page), patience).toMatch(/^Stored as drop \d+: 1 new, 499 unchanged, 1 changed/);

  await page.getByRole("button", { name: "Drop in more sheets" }).click();
  await drop("jobs week 23 mended.csv", toMend.replace("J-9001,SL650-09,,", "J-9001,SL650-09,28/05/2025,"));
  expect(await readAnswer(page)).toBe(
    "1 sheet, 1 line: 1 new, none set aside. Nothing to confirm: ready to be stored.",
  );
  await page.getByRole("button", { name: "Store this drop" }).click();
  await expect.poll(() => readAnswer(page), patience).toMatch(/^Stored as drop \d+: 1 new, none set aside/);

  await page.getByRole("button", { name: "Drop in more sheets" }).click();
  await drop("jobs week 24.csv", grown.replace("J-9001,SL650-09,,", "J-9001,SL650-09,28/05/2025,"));
  expect(await readAnswer(page)).toBe(
    "1 sheet, 502 lines: 502 unchanged, none set aside. Nothing to confirm: ready to be stored.",
  );
  await page.getByRole("button", { name: "Take this drop back" }).click();
  await page.getByText("Taken back. Nothing was stored.").waitFor(patience);
  expect(complaints).toEqual([]);
  await close();
});

test("a finding at the teardown table: five taps and the initials, stored, and told in the story of the serial", async () => {
  const { page, complaints, close } = await openPage(
    shop.browser,
    `${shop.address}tool-history/AD475-005?form=finding`,
  );
  const taps = [
    page.getByRole("radio", { name: /^main seal/ }),
    page.getByRole("radio", { name: /^extrusion/ }),
    page.getByRole("radio", { name: /3 major/ }),
    page.getByRole("checkbox", { name: /Everything else/ }),
  ];
  for (const tap of taps) await tap.check(patience);
  await page.getByLabel(/initials/i).fill("AB");
  await page.getByRole("button", { name: "Store" }).click();
  await page.getByText(/^Stored as drop \d+: 1 finding, the other 7 items sound/).waitFor(patience);

  await page.goto(`${shop.address}tool-history/AD475-005`);
  await page.getByText("found failed: main seal: extrusion").first().waitFor(patience);
  const latest: { who: string; files: { file: string }[] }[] = await (await fetch(`${shop.address}api/batches`)).json();
  expect(latest.at(-1)).toMatchObject({ who: "AB", counts: { new: 2 } });
  expect(complaints).toEqual([]);
  await close();
});
