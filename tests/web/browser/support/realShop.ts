/** Nothing stood in for: the real server on a folder of its own with the sample fleet, the built page, a real browser. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { build } from "vite";
import { startServer } from "../../../../server/start.ts";
import { launchBrowser } from "../../../support/browser.ts";

export interface RealShop {
  readonly browser: Browser;
  /** Of the page, ending in a slash. */
  readonly address: string;
  close(): Promise<void>;
}

export async function openRealShop(): Promise<RealShop> {
  const folder = await mkdtemp(join(tmpdir(), "afterrun-shop-"));
  const webFolder = join(folder, "web");
  await build({ configFile: "vite.config.ts", logLevel: "error", build: { outDir: webFolder, emptyOutDir: true } });
  const data = join(folder, "data");
  const [server, browser] = await Promise.all([
    startServer({ folder: data, port: 0, sample: true, webFolder, logLevel: "silent", say: () => {} }),
    launchBrowser(),
  ]);
  return {
    browser,
    address: server.address,
    async close() {
      await browser.close();
      await server.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
