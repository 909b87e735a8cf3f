import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { redressIntervalFixture, sinceDecisionFixture } from "../../support/chartFixtures/decisions.ts";
import { buildPracticeFixture, itemLifeFixture } from "../../support/chartFixtures.ts";
import { mockState } from "./support/mockData.ts";
import { mockPages } from "./support/mockPages.ts";
import { axeFindings, openPage, sidewaysScroll } from "./support/openPage.ts";

const mock = mockPages();

const life = "/item-life?item=main+seal&mode=extrusion";
const refused = () => ({
  status: 503,
  body: {
    error: { code: "shutting-down", message: "Afterrun is closing. Start it again and ask once more.", facts: {} },
  },
});

interface State {
  readonly name: string;
  readonly path: string;
  readonly prepare?: () => void;
  readonly act?: (page: Page) => Promise<void>;
}
const typedFigures =
  "/practice?figure-design=21914&figure-factor=0.9&figure-final=x&figure-area=12&figure-lead=0.25&figure-thread=2.35&figure-shoulder=2.85";
const states: readonly State[] = [
  { name: "what fails", path: "/what-fails" },
  { name: "what fails, narrowed, scope open", path: "/what-fails?item=main+seal&mode=leak", act: openScope },
  { name: "item life with rows and method open", path: life, act: openRowsAndMethod },
  { name: "item life without failures", path: life, prepare: noFailures },
  { name: "item life, nothing chosen", path: "/item-life" },
  { name: "build practice, all folds open", path: "/practice", act: openFolds },
  { name: "build practice, nothing stands out", path: "/practice", prepare: nothingStandsOut, act: openFolds },
  { name: "build practice, torque figures typed", path: typedFigures },
  { name: "tool history, picker", path: "/tool-history" },
  { name: "tool history", path: "/tool-history/AD650-017" },
  { name: "redress interval", path: "/interval?item=main+seal&planned=6000&failure=60000" },
  { name: "redress interval, since a decision", path: "/interval", prepare: decided, act: openFolds },
  { name: "fleet", path: "/fleet" },
  { name: "records", path: "/records" },
  { name: "records, nothing stored", path: "/records", prepare: nothingStored },
  { name: "drop page", path: "/records/drop" },
  { name: "drop preview", path: "/records/drop?drop=d1" },
  { name: "no sheets yet", path: "/what-fails", prepare: nothingStored },
  { name: "open questions", path: "/what-fails", prepare: openQuestions },
  {
    name: "refused answer",
    path: "/what-fails",
    prepare: () => void mock.server.replies.set("/api/what-fails", refused),
  },
  { name: "no records", path: "/what-fails", prepare: () => void mock.server.replies.set("/api/state", refused) },
  {
    name: "slow answer",
    path: "/what-fails",
    prepare: slow,
    act: async (page) => void (await page.waitForTimeout(400)),
  },
];

async function openFolds(page: Page) {
  await page.locator(".card summary").first().waitFor();
  for (const fold of await page.locator(".card summary").all()) await fold.click();
}
function nothingStandsOut() {
  const result = buildPracticeFixture({ few: true });
  mock.server.replies.set("/api/build-practice", () => ({ body: result, events: [{ event: "result", data: result }] }));
}
function decided() {
  const result = { ...redressIntervalFixture(), sinceDecided: sinceDecisionFixture() };
  mock.server.replies.set("/api/redress-interval", () => ({
    body: result,
    events: [{ event: "result", data: result }],
  }));
}
async function openScope(page: Page) {
  await page.getByRole("button", { name: "Change scope" }).click();
}
async function openRowsAndMethod(page: Page) {
  await page.getByText("Method, failure definition and source").click();
  await page
    .getByRole("button", { name: /^Show rows/ })
    .first()
    .click();
  await page.getByText("As it was written").first().waitFor();
}
function noFailures() {
  mock.server.replies.set("/api/item-life", () => ({ body: itemLifeFixture({ scale: 1e6 }) }));
}
function nothingStored() {
  mock.server.replies.set("/api/state", () => ({ body: mockState({ batches: 0 }) }));
}
function openQuestions() {
  mock.server.replies.set("/api/state", () => ({
    body: mockState({ openQuestions: ["What does a rebuild here renew?"] }),
  }));
}
function slow() {
  mock.server.replies.set("/api/what-fails", () => new Promise(() => {}));
}

for (const { name, path, prepare, act } of states)
  for (const theme of ["light", "dark"] as const)
    test(`axe-core finds nothing and nothing scrolls sideways: ${name}, ${theme}`, async () => {
      prepare?.();
      const { page, complaints, close } = await open(path, theme);
      await act?.(page);
      expect(await axeFindings(page)).toEqual([]);
      for (const width of [320, 480, 880, 1120, 1600]) {
        await page.setViewportSize({ width, height: 900 });
        await page.waitForTimeout(60);
        expect(await sidewaysScroll(page), `at ${width} px`).toBe(0);
      }
      await page.setViewportSize({ width: 320, height: 900 });
      expect(await axeFindings(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await close();
    });

async function open(path: string, theme: "light" | "dark") {
  if (mock.server.replies.has("/api/what-fails") && path === "/what-fails") {
    // A reply that never comes would keep the network from being idle.
    const opened = openPage(mock.browser, `${mock.server.address}/records`, { theme, forAxe: true });
    const { page } = await opened;
    await page.goto(mock.server.address + path, { waitUntil: "commit" });
    await page.waitForSelector("main");
    await page.waitForTimeout(300);
    return opened;
  }
  return openPage(mock.browser, mock.server.address + path, { theme, forAxe: true });
}
