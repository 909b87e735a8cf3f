// Build practice in the page: how far it is, looking closely by the picture, rows behind a group, torque figures, copying.
import { expect, test } from "vitest";
import { buildPracticeFixture } from "../../support/chartFixtures.ts";
import { mockPages } from "./support/mockPages.ts";
import { openPage } from "./support/openPage.ts";

const mock = mockPages();
const open = (path = "/practice") => openPage(mock.browser, mock.server.address + path);

test("the answer stands first, and says goes with, not causes", async () => {
  const { page, complaints, close } = await open();
  const answer = (await page.locator(".answer").textContent()) ?? "";
  expect(answer).toContain("last 0.55 times as long (0.36–0.82");
  expect(answer).toContain("It goes with that; whether it is the cause only a trial can tell.");
  expect(answer).toContain("nobody can tell: it went along with the technician");
  expect((await page.locator("main").textContent())?.toLowerCase()).not.toMatch(/\bcauses\b|significant/);
  expect(complaints).toEqual([]);
  await close();
});

test("while it is worked out the page says how far it is", async () => {
  let finish: () => void = () => undefined;
  const waited = new Promise<void>((done) => {
    finish = done;
  });
  async function* events() {
    yield { event: "progress" as const, data: { share: 0.42, doing: "joint, back-off: Thread compound" } };
    await waited;
    yield { event: "result" as const, data: buildPracticeFixture() };
  }
  mock.server.replies.set("/api/build-practice", () => ({ body: null, events: events() }));
  const context = await mock.browser.newContext();
  const page = await context.newPage();
  await page.goto(`${mock.server.address}/practice`, { waitUntil: "commit" });
  await page.getByText("42 % done: joint, back-off: Thread compound…").first().waitFor();
  finish();
  await page.locator(".answer").waitFor();
  await context.close();
});

test("what takes long can be stopped; that is said instead of an answer, and it can be asked again", async () => {
  async function* events() {
    yield { event: "progress" as const, data: { share: 0.1, doing: "main seal, extrusion: Gap" } };
    await new Promise(() => undefined);
  }
  mock.server.replies.set("/api/build-practice", () => ({ body: null, events: events() }));
  const context = await mock.browser.newContext();
  const page = await context.newPage();
  await page.goto(`${mock.server.address}/practice`, { waitUntil: "commit" });
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await page.getByText("Stopped before the answer was there.").waitFor();
  mock.server.replies.clear();
  await page.getByRole("button", { name: "Try again" }).click();
  await page.locator(".answer").waitFor();
  await context.close();
});

test("a comparison picked in the picture is looked at closely; address, request, back and a shared address agree", async () => {
  const { page, close } = await open();
  const asked = "practice=gap&of=main+seal&by=extrusion";
  await page.getByRole("button", { name: /^Main seals with a gap/ }).click();
  await expect.poll(() => page.url()).toBe(`${mock.server.address}/practice?${asked}`);
  await expect.poll(() => mock.server.asked).toContain(`GET /api/build-practice?${asked}`);
  await page.goBack();
  await expect.poll(() => page.url()).toBe(`${mock.server.address}/practice`);
  await close();
  mock.server.asked.length = 0;
  const shared = await open(`/practice?${asked}`);
  expect(mock.server.asked).toContain(`GET /api/build-practice?${asked}`);
  await shared.close();
});

test("a group, a failed life and a lot lead to the rows of the sheets", async () => {
  const { page, close } = await open();
  await page.getByRole("button", { name: /^Below 0.95/ }).press("Enter");
  await expect.poll(() => mock.server.asked.some((line) => line.startsWith("GET /api/lives?study="))).toBe(true);
  await page.getByText("As it was written").first().waitFor();
  await page.getByRole("button", { name: /failures by extrusion, lot L-118/ }).click();
  await page.getByText("Lot L-118 of main seal: 8 failures by extrusion").waitFor();
  const carrier = page.getByRole("link", { name: "AD650-004" }).first();
  expect(await carrier.getAttribute("href")).toContain("/tool-history/AD650-004");
  await close();
});

test("torque figures on typed numbers stand in the address, in both unit systems, and say what cannot be used", async () => {
  const { page, close } = await open();
  await page.getByLabel("Design torque, ft-lbf").fill("21914");
  await page.getByLabel("Friction factor of the compound").fill("0.9");
  await page.getByLabel("Friction factor of the compound").press("Tab");
  // 21,914 x 0.9 = 19,722.6 ft-lbf, as two suppliers' pages print (19,723).
  await page.getByRole("cell", { name: "19,720 ft-lbf" }).waitFor();
  await page.getByRole("cell", { name: "26,740 N·m" }).waitFor();
  expect(page.url()).toContain("figure-design=21914&figure-factor=0.9");
  await page.getByLabel("Final torque, ft-lbf").fill("good tight");
  await page.getByLabel("Final torque, ft-lbf").press("Tab");
  await page.getByText('The final torque "good tight" is not a number above 0.').waitFor();
  await close();
});

test("a picture is copied with its sentence", async () => {
  const context = await mock.browser.newContext({ permissions: ["clipboard-read", "clipboard-write"] });
  const page = await context.newPage();
  await page.goto(`${mock.server.address}/practice`);
  await page.getByRole("button", { name: "Copy the comparisons with its sentence" }).click();
  await page.getByText("Copied, with its sentence.").waitFor();
  const copied = await page.evaluate(async () => {
    const [item] = await navigator.clipboard.read();
    const picture = await item?.getType("image/png");
    const words = await item?.getType("text/plain");
    return { bytes: picture?.size ?? 0, words: (await words?.text()) ?? "" };
  });
  expect(copied.bytes).toBeGreaterThan(10_000);
  expect(copied.words).toBe("How many times as long each lasts: 3 of 38 comparisons stand out");
  await context.close();
});

test("how many runs it takes is asked for with an effect and a chance, and stands in the address", async () => {
  const { page, complaints, close } = await open();
  await page.getByRole("button", { name: "Work out how many runs" }).click();
  await page.waitForURL(/find=0\.67&chance=0\.8/);
  await page.getByText(/To find a life cut to 0\.67 with a chance of 0\.8/).waitFor();
  await page.getByLabel("A life so many times as long").selectOption("0.5");
  await page.getByLabel("Weibull shape of the mode").selectOption("1.3");
  await page.waitForURL(/find=0\.5&chance=0\.8&assume=1\.3/);
  await expect
    .poll(() => mock.server.asked.some((one) => one.includes("find=0.5") && one.includes("assume=1.3")))
    .toBe(true);
  // Another comparison is another question: nobody asked it of that one yet.
  await page.locator("table a, table button").filter({ hasText: "compound" }).first().click();
  await page.waitForURL((address) => !address.search.includes("find="));
  expect(complaints).toEqual([]);
  await close();
});
