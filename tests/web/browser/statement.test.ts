// A statement made, handed over, stored, approved and issued in a real browser against the real server on the sample fleet.
import { afterAll, beforeAll, expect, test } from "vitest";
import { axeFindings, openPage, sidewaysScroll } from "./support/openPage.ts";
import { openRealShop, type RealShop } from "./support/realShop.ts";

const patience = { timeout: 200_000 };
// A statement asks a dozen questions; the machine may be shared.
const time = 300_000;
let shop: RealShop;
beforeAll(async () => {
  shop = await openRealShop();
});
afterAll(() => shop?.close());

const scope = "statement?type=bypass+valve&customer=Customer+Cedar&from=2025-01-01&to=2025-12-31";

test(
  "the preview is the document; stored, approved and issued it says so; the page and the document pass axe",
  async () => {
    const { page, complaints, close } = await openPage(shop.browser, `${shop.address}${scope}`);
    const frame = page.frameLocator(".statement-preview iframe");
    await frame.getByRole("heading", { name: "Reliability statement" }).waitFor(patience);
    await frame.getByText("Invented sample data").first().waitFor();
    await frame.getByText("Preview: not stored, not approved, not for the customer.").waitFor();
    // As tall as its content: one scroll bar.
    const [inner, outer] = await page.locator(".statement-preview iframe").evaluate((element) => {
      const own = element as HTMLIFrameElement;
      return [own.contentDocument?.documentElement.scrollHeight ?? 0, own.clientHeight];
    });
    expect(outer).toBeGreaterThanOrEqual(inner ?? 1);
    expect(await axeFindings(page)).toEqual([]);

    await page.getByLabel("Your initials, printed on the statement").first().fill("AB");
    await page.getByRole("button", { name: "Store as a draft" }).click();
    await page.getByText("Stored as statement 1, version 1: a draft.").waitFor(patience);
    await page.getByRole("button", { name: "Approve" }).click();
    await page.getByText("Statement 1, version 1: approved.").waitFor(patience);
    await page.getByRole("button", { name: "Issue", exact: true }).click();
    await page.getByText("Statement 1, version 1: issued.").waitFor(patience);
    const address = await page.getByRole("link", { name: "Web page of statement 1, version 1" }).getAttribute("href");

    const own = await openPage(shop.browser, new URL(address ?? "", shop.address).href);
    await own.page.getByText(/drafted by AB on .*; approved by AB on .*; issued by AB on/).waitFor(patience);
    expect(await axeFindings(own.page)).toEqual([]);
    expect(await sidewaysScroll(own.page)).toBe(0);
    expect(own.complaints).toEqual([]);
    await own.close();

    expect(await sidewaysScroll(page)).toBe(0);
    expect(complaints).toEqual([]);
    await close();
  },
  time,
);

test(
  "before and after a change is asked for in words, and waits until they are there",
  async () => {
    const { page, close } = await openPage(shop.browser, `${shop.address}${scope}`);
    await page.getByLabel("Kind of statement").selectOption("before and after");
    await page.getByText("Say what was changed, and on which day.").waitFor();
    expect(await page.getByRole("button", { name: /^Make the preview/ }).isDisabled()).toBe(true);
    await page.getByLabel("What was changed").fill("Rings from another maker");
    await page.getByLabel("On", { exact: true }).fill("2025-07-01");
    await page.getByLabel("It applies to").selectOption("runs");
    await page.getByText("Only some tools or wells, figures asked for, actions, names").click();
    await page.getByLabel("failures a month").check();
    await page.getByRole("button", { name: "Add an action" }).click();
    await page.getByLabel("Action 1", { exact: true }).fill("Check the ring gap");
    await page.getByLabel("Action 1 is about").selectOption("main seal");
    await page.getByLabel("Numbers").selectOption("comma");
    await page.getByRole("button", { name: "Make the preview with these settings" }).click();
    await page.locator(".statement-progress progress").waitFor(patience);
    const frame = page.frameLocator(".statement-preview iframe");
    await frame.getByRole("heading", { name: "Before and after a change" }).waitFor(patience);
    await frame.getByText("Rings from another maker").first().waitFor();
    await frame.getByRole("row", { name: /Check the ring gap.*main seal/ }).waitFor();
    await frame
      .getByText(/\d,\d+ per 1\u00A0000\u00A0h/)
      .first()
      .waitFor();
    await frame.getByText(/Failures a month were asked for/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await close();
  },
  time,
);
