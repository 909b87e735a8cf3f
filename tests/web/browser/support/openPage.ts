import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type axeCore from "axe-core";
import type { Browser, Page } from "playwright-core";

declare global {
  /** Put into the page by `axeFindings`. */
  var axe: typeof axeCore;
}

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

export interface PageOptions {
  readonly width?: number;
  readonly theme?: "light" | "dark";
  /** Lets a test put a script of its own into the page; the page's policy forbids it otherwise. */
  readonly forAxe?: boolean;
}

/** Opens an address in a fresh context. Whatever the page logs as an error, or its policy refuses, fails the test at the end. */
export async function openPage(
  browser: Browser,
  address: string,
  { width = 1280, theme = "light", forAxe = false }: PageOptions = {},
): Promise<{ readonly page: Page; readonly complaints: readonly string[]; readonly close: () => Promise<void> }> {
  const context = await browser.newContext({
    viewport: { width, height: 900 },
    colorScheme: theme,
    reducedMotion: "reduce",
    bypassCSP: forAxe,
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => {
    // A refused request is part of some tests; the browser logs it by itself.
    if (message.type() === "error" && !message.text().startsWith("Failed to load resource"))
      complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(address);
  await page.waitForLoadState("networkidle");
  return { page, complaints, close: () => context.close() };
}

/** Rules that axe-core finds broken: its usual set and the size of targets. Empty where the page is clean. */
export async function axeFindings(page: Page): Promise<readonly string[]> {
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    const { violations } = await axe.run(document, { rules: { "target-size": { enabled: true } } });
    return violations.map(
      ({ id, help, nodes }) =>
        `${id}: ${help} (${nodes.length}x, ${nodes[0]?.html.slice(0, 200)}) ${nodes[0]?.failureSummary ?? ""}`,
    );
  });
}

/** Pixels by which the page as a whole is wider than the window. */
export const sidewaysScroll = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
