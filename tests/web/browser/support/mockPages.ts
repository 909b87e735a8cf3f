import type { Browser } from "playwright-core";
import { afterAll, beforeAll, beforeEach } from "vitest";
import { launchBrowser } from "../../../support/browser.ts";
import { type MockServer, startMockServer } from "./mockServer.ts";

/** There from the first test of a file to its last. */
export interface MockPages {
  readonly browser: Browser;
  readonly server: MockServer;
}

/** A browser and the built page with chosen replies, for the tests of one file. Between tests replies and what was asked are forgotten. */
export function mockPages(): MockPages {
  let there: MockPages | undefined;
  const started = (): MockPages => {
    if (there === undefined) throw new Error("The browser is there once the tests run.");
    return there;
  };
  beforeAll(async () => {
    const [browser, server] = await Promise.all([launchBrowser(), startMockServer()]);
    there = { browser, server };
  });
  afterAll(async () => {
    await there?.browser.close();
    await there?.server.close();
  });
  beforeEach(() => {
    const { server } = started();
    server.replies.clear();
    server.asked.length = 0;
    server.sent.length = 0;
  });
  return {
    get browser() {
      return started().browser;
    },
    get server() {
      return started().server;
    },
  };
}
