import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import type { Confirmation, DropPreview, Problem } from "../../../analysis/index.ts";
import { mockDrop, mockProgress } from "./support/mockData.ts";
import { mockPages } from "./support/mockPages.ts";
import type { MockEvent } from "./support/mockServer.ts";
import { openPage } from "./support/openPage.ts";

const mock = mockPages();

const oneFile = [{ name: "runs.csv", mimeType: "text/csv", buffer: Buffer.from("Run no;Tool\n1;AD650-017\n") }];
const answers = () => mock.server.sent.filter(({ path }) => path.endsWith("/answers")).map(({ body }) => body);
const preview = (change: Partial<DropPreview> = {}): DropPreview => ({ ...mockDrop(false), ...change });
const shows = (drop: DropPreview) => mock.server.replies.set("/api/drops/d1", () => ({ body: drop }));
const openDrop = () => openPage(mock.browser, `${mock.server.address}/records/drop?drop=d1`);

const { fingerprint } = mockDrop(false).files[0]?.mapping ?? { fingerprint: "" };
const asks = (part: Partial<Confirmation>): Confirmation => ({
  id: "q1",
  kind: "columns",
  question: "Is it so?",
  why: "Because.",
  proposed: "It is so.",
  answered: false,
  ...part,
});

async function* slowReading(until: Promise<void>): AsyncGenerator<MockEvent> {
  yield { event: "progress", data: { ...mockProgress, stage: "reading", rows: 4_000, share: 0.1 } };
  yield {
    event: "progress",
    data: { ...mockProgress, stage: "mapping", rows: 52_000, rowsInAll: 100_000, share: 0.52 },
  };
  await until;
  yield { event: "preview", data: mockDrop(false) };
}

test("a large drop says how far its reading is; the page goes on when it is done", async () => {
  let finish = () => {};
  const done = new Promise<void>((resolve) => {
    finish = resolve;
  });
  mock.server.replies.set("/api/drops/d1", () => ({ body: null, events: slowReading(done) }));
  const { page, complaints, close } = await openPage(mock.browser, `${mock.server.address}/records/drop`);
  await page.locator('input[type="file"]').setInputFiles(oneFile);
  await page.getByText("Turning lines into rows: 52,000 of 100,000 lines, 52 %").waitFor();
  expect(await page.getByRole("progressbar").getAttribute("value")).toBe("0.52");
  finish();
  await expect.poll(() => page.locator(".answer").textContent()).toMatch(/^1 sheet, 412 lines/);
  // The answer takes the focus, so that a screen reader reads it and Tab goes on from there.
  expect(await page.evaluate(() => document.activeElement?.className)).toBe("answer");
  expect(complaints).toEqual([]);
  await close();
});

test("a reading is cancelled: the server is told, nothing is stored, the page starts again", async () => {
  mock.server.replies.set("/api/drops/d1", () => ({ body: null, events: slowReading(new Promise(() => {})) }));
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records/drop`);
  await page.locator('input[type="file"]').setInputFiles(oneFile);
  await page.getByText("52 %").waitFor();
  await page.getByRole("button", { name: "Cancel" }).click();
  await page.getByText("Taken back. Nothing was stored.").waitFor();
  await expect.poll(() => mock.server.asked).toContain("DELETE /api/drops/d1");
  expect(page.url()).toBe(`${mock.server.address}/records/drop`);
  await page.locator('input[type="file"]').waitFor();
  await close();
});

test("what the reader refuses is said in its words, and other sheets can be dropped at once", async () => {
  const refused = { error: { code: "sheet-empty", message: "runs.csv holds nothing. Drop another.", facts: {} } };
  mock.server.replies.set("/api/drops/d1", () => ({ body: null, events: [{ event: "error", data: refused }] }));
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records/drop`);
  await page.locator('input[type="file"]').setInputFiles(oneFile);
  await page.getByRole("alert").getByText("runs.csv holds nothing. Drop another.").waitFor();
  await page.locator('input[type="file"]').waitFor();
  await close();
});

test("cells are pasted anywhere on the page, named, and read like a file", async () => {
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records/drop`);
  await page.evaluate(() => {
    const data = new DataTransfer();
    data.setData("text/plain", "Run no\tTool\n1\tAD650-017\n2\tAD650-018\n");
    window.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true }));
  });
  await page.getByText("3 lines, 2 columns").waitFor();
  await page.getByLabel("A name to know it by, if you like").fill("week 12");
  await page.getByRole("button", { name: "Read these cells" }).click();
  await expect.poll(() => page.locator(".answer").textContent()).toMatch(/^1 sheet, 412 lines/);
  expect(mock.server.sent).toEqual([
    { path: "/api/drops/paste", body: { text: "Run no\tTool\n1\tAD650-017\n2\tAD650-018\n", name: "week 12" } },
  ]);
  await close();
});

test("the counts stand as a sum before anything is stored; changed cells old beside new; lines to mend have an address", async () => {
  const { page, close } = await openDrop();
  const parts = await page.locator(".balance dd").allTextContents();
  expect(parts).toEqual(["412", "371", "32", "3", "6"]);
  const [lines = 0, ...rest] = parts.map(Number);
  expect(rest.reduce((sum, each) => sum + each, 0)).toBe(lines);
  const changed = page.getByRole("row", { name: /Hours/ });
  expect(await changed.getByRole("cell").allTextContents()).toEqual(["42 h", "62.5 h"]);
  const mend = page.getByRole("link", { name: "6 lines of runs_2026.csv, to mend (CSV)" });
  expect(await mend.getAttribute("href")).toBe("/api/drops/d1/set-aside.csv?file=runs_2026.csv");
  await close();
});

test("a sheet known already asks nothing and says so", async () => {
  shows(preview({ confirmations: [], ready: true }));
  const { page, close } = await openDrop();
  expect(await page.locator(".answer").textContent()).toContain("Nothing to confirm: ready to be stored.");
  await page.getByText("These sheets are known; there is nothing to confirm.").waitFor();
  expect(await page.getByRole("button", { name: "Store this drop" }).isEnabled()).toBe(true);
  await close();
});

test("“a blank means as above” is answered no where it stands", async () => {
  const about = { fingerprint, headers: ["Tool"] };
  const file = mockDrop(false).files[0];
  if (file === undefined) throw new Error("the mock has a file");
  const mapping = { ...file.mapping, format: { ...file.mapping.format, fillDown: ["Tool"] } };
  shows(preview({ files: [{ ...file, mapping }], confirmations: [asks({ id: "filled:x:Tool", about })] }));
  const { page, close } = await openDrop();
  await page.getByRole("button", { name: "No, a blank there is not known" }).click();
  await expect
    .poll(answers)
    .toMatchObject([{ mappings: { "runs_2026.csv": { format: { fillDown: [] }, fingerprint } } }]);
  await close();
});

test("the order of dates is answered otherwise where it is asked", async () => {
  shows(preview({ confirmations: [asks({ kind: "date order", about: { fingerprint, headers: ["Date out"] } })] }));
  const { page, close } = await openDrop();
  await page.getByRole("button", { name: "No: month, day, year" }).click();
  await expect
    .poll(answers)
    .toMatchObject([{ mappings: { "runs_2026.csv": { format: { dateOrder: { "Date out": "mdy" } } } } }]);
  await close();
});

test("each unknown word stands beside the nearest known one; one is read otherwise, and only that one is sent", async () => {
  const words: Confirmation["words"] = [
    { vocabulary: "pulled because", phrase: "TD'd", means: "planned", times: 9, like: "td" },
    { vocabulary: "pulled because", phrase: "wshd", means: "not known", times: 2, like: null },
  ];
  shows(preview({ confirmations: [asks({ kind: "words", words })] }));
  const { page, close } = await openDrop();
  expect(await page.getByRole("row", { name: /TD'd/ }).textContent()).toContain("“td”");
  expect(await page.getByRole("row", { name: /wshd/ }).textContent()).toContain("none near");
  await page.getByLabel("What “wshd” means").selectOption({ label: "hole problem" });
  await page.getByRole("button", { name: "Read the sheets with this word" }).click();
  await expect.poll(answers).toEqual([{ words: { "pulled because": { wshd: "hole problem" } } }]);
  await close();
});

test("tabs that are hidden or empty are said beside the counts, not among the problems of another tab", async () => {
  const file = mockDrop(false).files[0];
  if (file === undefined) throw new Error("the mock has a file");
  const about = (code: Problem["code"], sheet: string): Problem => ({
    code,
    severity: "notice",
    origin: { file: "book.xlsx", sheet, line: 1 },
    column: null,
    value: null,
    facts: {},
  });
  const tabs = [
    { ...file, file: "book.xlsx", sheet: "AD650-017", problems: [about("tab-empty", "Notes")] },
    { ...file, file: "book.xlsx", sheet: "AD650-018", problems: [about("tab-hidden", "AD650-018")] },
  ];
  shows(preview({ files: tabs }));
  const { page, close } = await openDrop();
  const lines = page.getByRole("region", { name: "Lines" });
  expect(await lines.getByRole("listitem").allTextContents()).toEqual([
    "book.xlsx, sheet Notes, line 1: Nothing is written on the tab Notes. There is nothing to store of it.",
    expect.stringMatching(/tab AD650-018 is hidden/),
  ]);
  expect(await page.getByText("What could not be read").count()).toBe(0);

  // A change of one tab is a change of those with the same headers.
  await page.getByText("How its 7 columns are read").first().click();
  await page.getByLabel("What the column Tool becomes").first().selectOption("");
  await expect.poll(() => answers().length).toBe(1);
  const [edit] = answers() as { mappings: Record<string, unknown> }[];
  expect(Object.keys(edit?.mappings ?? {})).toEqual(["book.xlsx, tab AD650-017", "book.xlsx, tab AD650-018"]);
  await close();
});

test("a row that is gone is excluded with who and why, never deleted", async () => {
  mock.server.replies.set("/api/audit/answers", () => ({ body: { stored: 1, dataHash: "x", answers: [] } }));
  const { page, close } = await openDrop();
  await page.getByLabel("2901 should not count any more").check();
  await page.getByLabel("Why it should not count").fill("typed twice");
  await page
    .getByRole("region", { name: "Gone" })
    .getByLabel(/^Your initials/)
    .fill("KJ");
  await page.getByRole("button", { name: "Exclude 1 row" }).click();
  await page.getByText("1 row excluded: typed twice").waitFor();
  expect(mock.server.sent).toMatchObject([
    {
      path: "/api/audit/answers",
      body: { who: "KJ", answers: [{ table: "runs", key: '["2901"]', verdict: "exclude", why: "typed twice" }] },
    },
  ]);
  await close();
});

test("a mapping is saved as JSON, and one that was saved is brought in", async () => {
  const { page, close } = await openDrop();
  await page.getByText(/^The mapping as data: version 1/).click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: /^Save as JSON/ }).click(),
  ]);
  expect(download.suggestedFilename()).toBe("mapping-runs-v1.json");
  const saved = { ...mockDrop(false).files[0]?.mapping, name: "brought in", fingerprint: "of another sheet" };
  await page.getByLabel(/^Bring a saved mapping in/).setInputFiles({
    name: "mapping.json",
    mimeType: "application/json",
    buffer: Buffer.from(JSON.stringify(saved)),
  });
  await expect.poll(answers).toMatchObject([{ mappings: { "runs_2026.csv": { name: "brought in", fingerprint } } }]);
  await close();
});

test("a stored drop is taken back after it was shown what that would change", async () => {
  const undo = { undoes: 4, removed: 371, restored: 3, returned: 0, kept: 1, rows: [], stored: null };
  const keptRows = [{ table: "runs", key: '["2988"]', changedBy: 6 }];
  mock.server.replies.set("/api/batches/4/undo", () => ({ body: { ...undo, keptRows } }));
  mock.server.replies.set("/api/batches/4", () => ({ body: { setAsideLines: [] } }));
  const { page, close } = await openPage(mock.browser, `${mock.server.address}/records`);
  await page.getByText("Drop 4", { exact: true }).click();
  await page.getByRole("button", { name: /^Take this drop back/ }).click();
  await page
    .getByText(/^371 rows leave, 3 rows go back to their former values, 1 row stays as a later drop left it/)
    .waitFor();
  await page.getByText("drop 6").waitFor();
  await initialsOf(page, "KJ");
  await page.getByRole("button", { name: "Take drop 4 back" }).click();
  await expect.poll(() => mock.server.asked).toContain("POST /api/batches/4/undo");
  expect(mock.server.asked).toContain("POST /api/batches/4/undo?preview=true");
  await close();
});

const initialsOf = (page: Page, text: string) => page.getByLabel(/^Your initials/).fill(text);
