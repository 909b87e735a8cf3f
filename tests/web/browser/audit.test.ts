// Doubts answered in a real browser against the real server on the sample fleet.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { axeFindings, openPage, sidewaysScroll } from "./support/openPage.ts";
import { openRealShop, type RealShop } from "./support/realShop.ts";

const patience = { timeout: 60_000 };
let shop: RealShop;
beforeAll(async () => {
  shop = await openRealShop();
});
afterAll(() => shop?.close());

const torques = "records/audit?rule=torque+unit+suspect&table=joints&column=final_torque_Nm";
const answer = (page: Page) => page.locator(".answer");
/** The doubts that the page says are open, of whatever it shows. */
async function open(page: Page): Promise<number> {
  const said = (await answer(page).textContent(patience)) ?? "";
  return Number(/([\d,]+) (?:doubts?|open)/.exec(said)?.[1]?.replaceAll(",", "") ?? Number.NaN);
}
async function answerWith(page: Page, verdict: RegExp, why: string) {
  await page.getByLabel(verdict).check();
  await page.getByLabel("How do you know?").fill(why);
  const initials = page.getByLabel("Your initials, kept with it");
  if ((await initials.count()) > 0) await initials.fill("KL");
  await page.getByRole("button", { name: "Answer", exact: true }).click();
}

test("from the kinds of doubt to two torques put right as proposed, and taken back again", async () => {
  const { page, complaints, close } = await openPage(shop.browser, `${shop.address}records`);
  await page.getByRole("link", { name: "What is in doubt" }).click();
  await answer(page)
    .getByText(/lives rest on them/)
    .waitFor(patience);
  const all = await open(page);
  expect(all).toBeGreaterThan(300);

  await page.getByRole("link", { name: "Torque in another unit?" }).click();
  await answer(page)
    .getByText(/^Torque in another unit\?/)
    .waitFor(patience);
  const before = await open(page);
  const doubts = page.locator(".doubts li input");
  await doubts.nth(0).check();
  await doubts.nth(1).check();
  await page.getByText("2 rows ticked.").waitFor();
  await page.getByLabel("Correct each as proposed").check();
  await page.getByText(/^Changes 2 cells.* 2 doubts fewer\.$/).waitFor(patience);
  // Nothing is stored without a reason.
  expect(await page.getByRole("button", { name: "Answer", exact: true }).isDisabled()).toBe(true);
  await answerWith(page, /^Correct each as proposed/, "Looked up in the torque log");
  await expect.poll(() => open(page), patience).toBe(before - 2);

  await page.getByRole("link", { name: "All kinds of doubt" }).click();
  await expect.poll(() => open(page), patience).toBe(all - 2);
  await page.getByText("2 answers, the latest first").waitFor(patience);
  expect(await page.getByRole("row", { name: /N·m becomes [\d,.]+ N·m.*KL/ }).count()).toBe(2);

  await page
    .getByRole("button", { name: /^Take back…/ })
    .first()
    .click();
  await page.getByRole("button", { name: "Take back", exact: true }).click();
  await expect.poll(() => open(page), patience).toBe(all - 1);
  await page.getByText("answered anew since").waitFor(patience);
  expect(complaints).toEqual([]);
  await close();
});

test("a whole kind is answered at once: every run written twice is left out", async () => {
  const { page, complaints, close } = await openPage(
    shop.browser,
    `${shop.address}records/audit?rule=duplicate+run&table=runs`,
  );
  const before = await open(page);
  expect(before).toBeGreaterThan(5);
  await page.getByLabel(/^These \d+$/).check();
  await page.getByText(`${before} rows ticked.`).waitFor();
  await answerWith(page, /^Leave these rows out/, "The same report twice");
  await answer(page).getByText("none left open").waitFor(patience);
  expect(complaints).toEqual([]);
  await close();
});

test("a value that is none is said at once; one typed in the shop's unit is turned", async () => {
  const { page, close } = await openPage(shop.browser, `${shop.address}${torques}`);
  await page.locator(".doubts li input").first().check(patience);
  const value = page.getByLabel(/^Right value: final torque/i);
  await value.fill("good tight");
  await page.getByText("“good tight” is not a number.").waitFor();
  await value.fill("2700 ft-lbf");
  await page.getByText(/^Changes 1 cell/).waitFor(patience);
  await page
    .getByRole("button", { name: /^Show rows/ })
    .first()
    .click();
  await page.getByText("As it was written").first().waitFor(patience);
  await close();
});

test("the life of an item says what rests on doubts, and what it is without them", async () => {
  const { page, complaints, close } = await openPage(shop.browser, `${shop.address}item-life?item=J1&mode=back-off`);
  await page.getByText(/doubts about rows that these lives rest on are open/).waitFor(patience);
  await page.getByRole("button", { name: "Compare without them" }).click();
  const table = page.getByRole("table", { name: "With and without the rows in doubt" });
  const leftOut = table.getByRole("row", { name: /^left out/ });
  await leftOut.waitFor(patience);
  const lives = async (row: string) =>
    Number(
      (
        await table
          .getByRole("row", { name: new RegExp(`^${row}`) })
          .getByRole("cell")
          .first()
          .textContent()
      )?.replaceAll(",", ""),
    );
  expect(await lives("left out")).toBeLessThan(await lives("counted as written"));
  await page.getByRole("button", { name: "Show the whole page without them" }).click();
  await page.getByText("The rows in doubt are left out here.").waitFor(patience);
  expect(page.url()).toContain("audit=left+out");
  expect(complaints).toEqual([]);
  await close();
});

for (const theme of ["light", "dark"] as const)
  for (const width of [390, 1280])
    test(`doubts are clean to assistive programs and never wider than the window, ${theme}, ${width} px`, async () => {
      for (const path of ["records/audit", torques]) {
        const { page, close } = await openPage(shop.browser, `${shop.address}${path}`, { width, theme, forAxe: true });
        await answer(page).waitFor(patience);
        if (path === torques) {
          await page.locator(".doubts li input").first().check(patience);
          await page.getByText("1 row ticked.").waitFor();
        }
        expect(await axeFindings(page)).toEqual([]);
        expect(await sidewaysScroll(page)).toBe(0);
        await close();
      }
    });
