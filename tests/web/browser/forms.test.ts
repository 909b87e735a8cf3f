import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { mockPages } from "./support/mockPages.ts";
import { axeFindings, openPage, sidewaysScroll } from "./support/openPage.ts";

const mock = mockPages();

const story = "/tool-history/AD650-017";
const tablet = { width: 820, height: 1180 };

/** The tablet beside the teardown table, on which somebody has written before. */
async function atTheTable(path: string) {
  const opened = await openPage(mock.browser, mock.server.address + path);
  await opened.page.evaluate(() => window.localStorage.setItem("afterrun.initials", "KJ"));
  await opened.page.setViewportSize(tablet);
  await opened.page.reload();
  await opened.page.waitForLoadState("networkidle");
  return opened;
}

const stored = () => mock.server.sent.filter(({ path }) => path === "/api/forms").map(({ body }) => body);

/** Taps as a finger does: at the middle of what is shown, scrolling only where it must. */
function tapping(page: Page) {
  let taps = 0;
  return {
    tap: async (role: "link" | "button" | "radio" | "checkbox", name: string | RegExp) => {
      const target = page.getByRole(role, { name, exact: typeof name === "string" });
      await target.first().click({ timeout: 5_000 });
      taps += 1;
    },
    taps: () => taps,
  };
}

/**
 * Seconds that somebody who knows the page needs, by the keystroke-level model: 1.1 s to point, 0.2 s to press, 1.35 s to
 * make up one's mind. Card, Moran & Newell (1980), Communications of the ACM 23, 396-410; the three values from memory.
 */
const modelledSeconds = (taps: number, decisions: number): number => taps * (1.1 + 0.2) + decisions * 1.35;

test("a finding at the teardown table takes six taps, and less than fifteen seconds", async () => {
  const { page, complaints, close } = await atTheTable(story);
  const finger = tapping(page);
  const began = performance.now();
  await finger.tap("link", "Add a finding");
  await finger.tap("radio", /^main seal/);
  await finger.tap("radio", "extrusion");
  await finger.tap("radio", /^3 major/);
  await finger.tap("checkbox", /^Everything else was looked at and is sound/);
  await page.getByText("Adds 1 row to teardowns and tests, 1 row to findings.").waitFor();
  await finger.tap("button", "Store");
  await page.getByText(/^Stored as drop 4: 1 finding, the other \d+ items sound\. Written by KJ\./).waitFor();
  const page_s = (performance.now() - began) / 1000;
  expect(finger.taps()).toBe(6);
  // The item, the mode, the severity and the rest are decided; opening the form and storing are not.
  const inAll = modelledSeconds(finger.taps(), 4) + page_s;
  console.log(`a finding: 6 taps, ${page_s.toFixed(1)} s of the page, ${inAll.toFixed(1)} s in all`);
  expect(inAll).toBeLessThan(15);
  const [body] = stored() as { rows: { table: string; values: Record<string, unknown> }[]; who: string }[];
  expect(body).toMatchObject({
    who: "KJ",
    rows: [
      { table: "teardowns", values: { serial: "AD650-017", kind: "stripped" } },
      { table: "findings", values: { item: "main seal", condition: "extrusion", severity: 3 } },
    ],
  });
  expect(body?.rows[0]?.values.scope).toContain("guide band");
  expect(complaints).toEqual([]);
  await close();
});

test("at the table everything is in reach: 44 px or more, all on one screen, no sideways scroll", async () => {
  const { page, close } = await atTheTable(`${story}?form=finding`);
  await page.getByRole("radio", { name: /^main seal/ }).check();
  await page.getByRole("radio", { name: "extrusion", exact: true }).check();
  const small = await page.evaluate(() =>
    [...document.querySelectorAll(".tap-form :is(label.choice, button, select, summary, .answer-actions a)")]
      .map((target) => ({ text: target.textContent?.slice(0, 40), box: target.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
      .map(({ text, box }) => `${text}: ${Math.round(box.width)} x ${Math.round(box.height)}`),
  );
  expect(small).toEqual([]);
  // The last thing to tap stands above the bar that stores, without scrolling.
  const rest = await page.locator(".choice.rest").boundingBox();
  const bar = await page.locator(".store-bar").boundingBox();
  expect((rest?.y ?? 0) + (rest?.height ?? 0)).toBeLessThanOrEqual((bar?.y ?? 0) + 1);
  expect((bar?.y ?? 0) + (bar?.height ?? 0)).toBeLessThanOrEqual(tablet.height);
  expect(await sidewaysScroll(page)).toBe(0);
  await close();
});

test("by keyboard alone: arrows choose item, mode and severity, space the rest, Enter stores", async () => {
  const { page, close } = await atTheTable(`${story}?form=finding`);
  await page.getByRole("radio").first().focus();
  await page.keyboard.press("Space");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Space");
  expect(await page.getByRole("radio", { name: "sound", exact: true }).isChecked()).toBe(true);
  await page.getByRole("checkbox", { name: /^Everything else/ }).focus();
  await page.keyboard.press("Space");
  const store = page.getByRole("button", { name: "Store", exact: true });
  await expect.poll(() => store.isEnabled()).toBe(true);
  await store.focus();
  await page.keyboard.press("Enter");
  await page.getByText(/^Stored as drop 4/).waitFor();
  expect(stored()).toMatchObject([{ rows: [{ table: "teardowns" }, { values: { condition: "sound" } }] }]);
  await close();
});

test("who writes is asked once, before anything is stored", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}${story}?form=finding`);
  await page.getByRole("checkbox", { name: /^Everything else/ }).check();
  const store = page.getByRole("button", { name: "Store", exact: true });
  await expect.poll(() => store.isEnabled()).toBe(true);
  await store.click();
  await page.getByText("One to twelve letters, please.").waitFor();
  expect(stored()).toEqual([]);
  await page.getByLabel(/^Your initials/).fill("RT");
  await store.click();
  await page
    .getByText(/Written by/)
    .first()
    .waitFor();
  await expect.poll(() => stored().length).toBe(1);
  await close();
});

test("a run starts from what is known, says why, and waits for what is needed", async () => {
  const { page, close } = await atTheTable(story);
  await page.getByRole("link", { name: "Add a run" }).click();
  await page.getByText("as in the run before").first().waitFor();
  const store = page.getByRole("button", { name: "Store", exact: true });
  expect(await store.isDisabled()).toBe(true);
  await page.getByLabel("Run", { exact: true }).fill("R-9000");
  await page.getByLabel("Out on", { exact: true }).fill("2026-07-01");
  await page.getByLabel("Hours, h", { exact: true }).fill("62,5");
  await page.getByRole("radio", { name: "tool failure" }).check();
  await page.getByText("Adds 1 row to runs.").waitFor();
  await store.click();
  await expect
    .poll(stored)
    .toMatchObject([
      { rows: [{ table: "runs", values: { run: "R-9000", hours: 62.5, pulled_because: "tool failure" } }] },
    ]);
  await close();
});

test("a run of a number that is stored already is refused before it is sent", async () => {
  const { page, close } = await atTheTable(`${story}?form=run`);
  await page.getByLabel("Run", { exact: true }).fill("RUN-4101");
  await page.getByLabel("Out on", { exact: true }).fill("2026-07-01");
  await page.getByRole("radio", { name: "planned" }).check();
  await page.getByText("Runs RUN-4101 is stored already. Give it another name, or fix the stored one.").waitFor();
  expect(await page.getByRole("button", { name: "Store", exact: true }).isDisabled()).toBe(true);
  await close();
});

test("a redress starts from the one before; what is tapped otherwise and a torque in its own unit are kept", async () => {
  const { page, close } = await atTheTable(`${story}?form=redress`);
  const seal = page.getByRole("group", { name: /^main seal/ });
  await seal.getByRole("radio", { name: /^renewed/ }).check();
  const joint = page.getByRole("group", { name: /^J2/ });
  await joint.getByRole("checkbox", { name: /^made up/ }).check();
  await joint.getByLabel("Final torque, N·m").fill("2500 ft-lbf");
  await joint.getByText("is 3,390 N·m").waitFor();
  for (const choice of await page.getByRole("radio", { name: /^carried over/ }).all()) {
    const group = choice.locator("xpath=ancestor::fieldset[1]");
    if ((await group.getByRole("radio", { checked: true }).count()) === 0) await choice.check();
  }
  const store = page.getByRole("button", { name: "Store", exact: true });
  await expect.poll(() => store.isEnabled()).toBe(true);
  await store.click();
  await expect.poll(() => stored().length).toBe(1);
  const [body] = stored() as { rows: { table: string; values: Record<string, unknown> }[] }[];
  expect(body?.rows.filter(({ table }) => table === "fitted_items")).toContainEqual(
    expect.objectContaining({ values: expect.objectContaining({ item: "main seal", renewed: true }) }),
  );
  const torque = body?.rows.find(({ table, values }) => table === "joints" && values.joint === "J2");
  expect(torque?.values.final_torque_Nm).toBeCloseTo(3389.54, 1);
  await close();
});

test("an event is put right: what differs is shown old and new before it is stored", async () => {
  const { page, close } = await atTheTable(story);
  await page.getByRole("combobox", { name: "Show" }).selectOption("runs");
  await page
    .getByRole("link", { name: /^Fix Run RUN-/ })
    .first()
    .click();
  const hours = page.getByLabel("Hours, h", { exact: true });
  const before = await hours.inputValue();
  await hours.fill("71");
  const change = page.locator(".what-changes li");
  await change.waitFor();
  expect(await change.textContent()).toMatch(new RegExp(`^Runs RUN-\\d+, hours: ${before} h becomes 71 h$`));
  expect(await page.getByLabel("Run", { exact: true }).isDisabled()).toBe(true);
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect.poll(stored).toMatchObject([{ who: "KJ", rows: [{ table: "runs", values: { hours: 71 } }] }]);
  await close();
});

test("why a cell changes is asked where one does, and what became of the row so far is told", async () => {
  const { page, complaints, close } = await atTheTable(story);
  await page.getByRole("combobox", { name: "Show" }).selectOption("runs");
  await page
    .getByRole("link", { name: /^Fix Run RUN-/ })
    .first()
    .click();
  expect(await page.getByLabel("Why it changes").count()).toBe(0);
  await page.getByLabel("Hours, h", { exact: true }).fill("71");
  await page.getByLabel("Why it changes").fill("gauge");
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect.poll(stored).toMatchObject([{ who: "KJ", why: "gauge", rows: [{ values: { hours: 71 } }] }]);

  await page.getByText("What became of it: every drop, correction and answer").click();
  const rows = page.locator(".row-history tbody tr");
  await expect.poll(() => rows.count()).toBe(3);
  const words = await rows.allTextContents();
  expect(words[0]).toMatch(/the whole row.*brought in by drop 1: run_log\.csv, line 12.*AB/);
  expect(words[1]).toMatch(/Hours.*62\.5 h.*70 h.*drop 3: form CD, runs\.csv, line 2.*CD.*read from the log/);
  expect(words[2]).toMatch(/70 h.*71 h.*corrected beside the sheet; out of date.*EF.*gauge/);
  await page.locator(".row-history select").selectOption({ label: "Hours" });
  await expect.poll(() => mock.server.asked.some((path) => path.endsWith("&field=hours"))).toBe(true);
  expect(complaints).toEqual([]);
  await close();
});

test("a table under Records is edited in place; changed cells and new rows are shown before they are stored", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records`);
  await page.getByRole("link", { name: "Failure modes" }).click();
  await page.getByLabel("Severity threshold of main seal leak").fill("4");
  await page.getByRole("button", { name: "Add a row" }).click();
  await page.getByLabel("Item of new row 4").fill("pin");
  await page.getByLabel("Mode of pin").fill("shear");
  await page.getByLabel("Announces itself of pin shear").selectOption("hidden");
  await page.getByLabel("Severity threshold of pin shear").fill("3");
  await page.getByLabel("Restored by of pin shear").selectOption("renewed");
  await page.getByText("Adds 1 row to failure modes. Changes 1 row of failure modes.").waitFor();
  await page.getByText(/Failure modes main seal, leak, severity threshold:/).waitFor();
  await page.getByLabel(/^Your initials/).fill("KJ");
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect
    .poll(stored)
    .toMatchObject([
      { rows: [{ values: { mode: "leak", threshold: 4 } }, { values: { item: "pin", mode: "shear", threshold: 3 } }] },
    ]);
  await close();
});

test("a job to come is planned at the tool", async () => {
  const { page, close } = await atTheTable(story);
  await page.getByRole("link", { name: "Plan a run" }).click();
  await page.getByLabel("Starts on", { exact: true }).fill("2026-07-14");
  await page.getByLabel("Planned hours, h", { exact: true }).fill("55");
  await page.getByLabel("Expected temperature, °C", { exact: true }).fill("230 degF");
  await page.getByText("is 110 °C").waitFor();
  await page.getByText("Adds 1 row to planned runs.").waitFor();
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect.poll(stored).toMatchObject([
    {
      who: "KJ",
      rows: [{ table: "planned_runs", values: { serial: "AD650-017", start_on: "2026-07-14", hours: 55 } }],
    },
  ]);
  await close();
});

test("a cost starts from today and the currency used last; a decision names its tool type from the list", async () => {
  const { page, close } = await atTheTable("/records");
  await page.getByRole("link", { name: "Costs" }).click();
  await page.getByRole("link", { name: "Write one down" }).click();
  await page.getByText("as in the cost dated last").waitFor();
  expect(await page.getByLabel("Currency", { exact: true }).inputValue()).toBe("USD");
  await page.getByLabel("What", { exact: true }).selectOption("rig day");
  await page.getByLabel("Tool type", { exact: true }).fill("all");
  await page.getByLabel("Amount", { exact: true }).fill("-3");
  await page.getByText(/^It cannot be below 0/).waitFor();
  expect(await page.getByRole("button", { name: "Store", exact: true }).isDisabled()).toBe(true);
  await page.getByLabel("Amount", { exact: true }).fill("40000");
  await page.getByText("Adds 1 row to costs.").waitFor();
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect
    .poll(stored)
    .toMatchObject([
      { rows: [{ table: "costs", values: { what: "rig day", tool_type: "all", amount: 40000, currency: "USD" } }] },
    ]);
  await page.goto(`${mock.server.address}/records?form=new+decisions`);
  await page.getByText("What was decided, from a date on").waitFor();
  // The names come with their own request, after the form.
  await page.locator("datalist#item-known option").first().waitFor({ state: "attached" });
  const offered = await page
    .locator("datalist#item-known option")
    .evaluateAll((all) => all.map((option) => option.getAttribute("value")));
  expect(offered[0]).toBe("whole tool");
  expect(offered).toContain("main seal");
  await close();
});

test("a kit counted again takes the place of the count before, and says so first", async () => {
  const { page, close } = await atTheTable("/records?form=new+stock");
  await page.getByLabel("Kit", { exact: true }).fill("K-AD-1");
  await page.getByLabel("On hand", { exact: true }).fill("11");
  await page.getByText(/on hand: 14 becomes 11/).waitFor();
  await page.getByRole("button", { name: "Store", exact: true }).click();
  await expect.poll(() => stored().length).toBe(1);
  const [body] = stored() as { rows: { values: Record<string, unknown> }[] }[];
  // What was not touched is not sent, so the lead time stays as it is stored.
  expect(Object.keys(body?.rows[0]?.values ?? {}).sort()).toEqual(["counted_on", "kit", "on_hand"]);
  await close();
});

test("words, lists and mappings come in from a file after a look at what would change", async () => {
  const { page, complaints, close } = await atTheTable("/records");
  expect(await page.getByRole("link", { name: "Save them as a file" }).getAttribute("href")).toBe("/api/setup");
  const choose = (text: string) =>
    page
      .getByLabel(/^Bring them in from a file/)
      .setInputFiles({ name: "setup.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await choose("[]");
  await page.getByText("setup.json is not a file that Afterrun saved").waitFor();
  await choose('{"afterrunSetup":1}');
  await page.getByText("setup.json brings 1 word, 1 mapping.").waitFor();
  await page.getByRole("cell", { name: "compression set" }).waitFor();
  await page.getByRole("button", { name: "Store it" }).click();
  await page.getByText("Stored as drop 9: setup.json.").waitFor();
  expect(mock.server.sent.filter(({ path }) => path === "/api/setup").map(({ body }) => body)).toEqual([
    { afterrunSetup: 1 },
    { afterrunSetup: 1, who: "KJ" },
  ]);
  expect(complaints).toEqual([]);
  await close();
});

for (const path of [
  `${story}?form=finding`,
  `${story}?form=run`,
  `${story}?form=redress`,
  "/records?form=modes",
  "/records?form=new+costs",
])
  for (const theme of ["light", "dark"] as const)
    test(`axe-core finds nothing and nothing scrolls sideways: ${path}, ${theme}`, async () => {
      const { page, complaints, close } = await openPage(mock.browser, mock.server.address + path, {
        theme,
        forAxe: true,
      });
      await page.locator(".store-bar").waitFor();
      expect(await axeFindings(page)).toEqual([]);
      for (const width of [320, 390, 820, 1400]) {
        await page.setViewportSize({ width, height: 900 });
        await page.waitForTimeout(60);
        expect(await sidewaysScroll(page), `at ${width} px`).toBe(0);
      }
      await page.setViewportSize({ width: 390, height: 844 });
      expect(await axeFindings(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await close();
    });
