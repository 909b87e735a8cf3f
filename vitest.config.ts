import { defineConfig } from "vitest/config";

const unit = (name: string, include: string[], more: object = {}) => ({
  extends: true as const,
  test: { name, include, environment: "node", setupFiles: ["tests/support/seededProperties.ts"], ...more },
});

/** Files that keep no state share their modules: loading them anew for each would take as long as the tests. */
const pure = { isolate: false };

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    maxWorkers: 2,
    projects: [
      unit("analysis", ["tests/analysis/**/*.test.ts", "tests/reference/**/*.test.ts", "tests/datasets/**/*.test.ts"], {
        // Nothing here takes long; a machine shared with others may.
        testTimeout: 60_000,
        ...pure,
      }),
      unit("charts", ["tests/web/charts/**/*.test.{ts,tsx}"], pure),
      unit("server", ["tests/server/**/*.test.ts"], { testTimeout: 60_000, hookTimeout: 120_000 }),
      unit("browser", ["tests/web/browser/**/*.test.ts"], {
        testTimeout: 120_000,
        hookTimeout: 180_000,
      }),
    ],
  },
});
