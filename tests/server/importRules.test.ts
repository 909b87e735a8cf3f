import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
const biome = join(root, "node_modules/@biomejs/biome/bin/biome");

/** Each rule of the import table, broken once as a value, a type-only, a side-effect, a re-exported and a dynamic import. */
const forbidden: readonly { readonly file: string; readonly from: string }[] = [
  { file: "analysis/planted.ts", from: "node:fs" },
  { file: "analysis/planted.ts", from: "fs" },
  { file: "analysis/planted.ts", from: "express" },
  { file: "analysis/planted.ts", from: "pg" },
  { file: "analysis/planted.ts", from: "drizzle-orm/pg-core" },
  { file: "analysis/planted.ts", from: "zod" },
  { file: "analysis/planted.ts", from: "preact" },
  { file: "analysis/planted.ts", from: "d3-array" },
  { file: "analysis/planted.ts", from: "../server/app.ts" },
  { file: "analysis/planted.ts", from: "../web/charts/Frame.tsx" },
  { file: "analysis/planted.ts", from: "../tests/support/slow.ts" },
  { file: "analysis/study/planted.ts", from: "node:worker_threads" },
  { file: "analysis/study/planted.ts", from: "../../server/app.ts" },
  { file: "analysis/study/planted.ts", from: "../wording/sayError.ts" },
  { file: "analysis/wording/planted.ts", from: "express" },
  { file: "analysis/numerics/planted.ts", from: "../distributions/weibull.ts" },
  { file: "analysis/records/planted.ts", from: "../lives/deriveLives.ts" },
  { file: "analysis/records/planted.ts", from: "../study/runStudy.ts" },
  { file: "analysis/lives/planted.ts", from: "../study/runStudy.ts" },
  { file: "analysis/lives/planted.ts", from: "../wording/sayError.ts" },
  { file: "analysis/distributions/planted.ts", from: "../estimation/fitWeibull.ts" },
  { file: "analysis/estimation/planted.ts", from: "../study/runStudy.ts" },
  { file: "analysis/estimation/planted.ts", from: "../practice/index.ts" },
  { file: "analysis/nonparametric/planted.ts", from: "../wording/sayNotice.ts" },
  { file: "web/charts/planted.tsx", from: "../views/ItemLife.tsx" },
  { file: "web/charts/planted.tsx", from: "../state/address.ts" },
  { file: "web/charts/planted.tsx", from: "../../server/app.ts" },
  { file: "web/charts/planted.tsx", from: "d3-selection" },
  { file: "web/charts/planted.tsx", from: "d3-zoom" },
  { file: "web/charts/planted.tsx", from: "d3" },
  { file: "web/charts/planted.tsx", from: "preact/hooks" },
  { file: "web/charts/planted.tsx", from: "../../analysis/study/runStudy.ts" },
  { file: "web/views/planted.tsx", from: "../../server/contracts/queries.ts" },
  { file: "web/views/planted.tsx", from: "../../analysis/study/runStudy.ts" },
  { file: "web/views/planted.tsx", from: "express" },
  { file: "web/views/planted.tsx", from: "node:fs" },
  { file: "server/planted.ts", from: "../web/views/ItemLife.tsx" },
  { file: "server/routes/planted.ts", from: "../../web/state/address.ts" },
  { file: "server/planted.ts", from: "../tests/support/appForTests.ts" },
  { file: "server/planted.ts", from: "../analysis/study/runStudy.ts" },
  { file: "server/planted.ts", from: "d3-scale" },
];

const allowed: readonly { readonly file: string; readonly from: string }[] = [
  { file: "analysis/numerics/allowed.ts", from: "jstat" },
  { file: "analysis/numerics/allowed.ts", from: "pure-rand/generator/xoroshiro128plus" },
  { file: "analysis/numerics/allowed.ts", from: "../errors.ts" },
  { file: "analysis/lives/allowed.ts", from: "../records/descriptor.ts" },
  { file: "analysis/study/allowed.ts", from: "../estimation/types.ts" },
  { file: "analysis/wording/allowed.ts", from: "../study/types.ts" },
  { file: "web/charts/allowed.tsx", from: "d3-scale" },
  { file: "web/charts/allowed.tsx", from: "../../analysis/index.ts" },
  { file: "web/views/allowed.tsx", from: "d3-zoom" },
  { file: "web/views/allowed.tsx", from: "../charts/Frame.tsx" },
  { file: "web/views/allowed.tsx", from: "preact/hooks" },
  { file: "server/allowed.ts", from: "../web/charts/Frame.tsx" },
  { file: "server/allowed.ts", from: "../analysis/index.ts" },
  { file: "server/allowed.ts", from: "node:fs" },
  { file: "server/allowed.ts", from: "express" },
];

const forms = {
  value: (from: string) => `import { planted } from ${JSON.stringify(from)};\nconsole.log(planted);\n`,
  "type-only": (from: string) => `import type { Planted } from ${JSON.stringify(from)};\nexport type Kept = Planted;\n`,
  "side-effect": (from: string) => `import ${JSON.stringify(from)};\n`,
  "re-exported": (from: string) => `export { planted } from ${JSON.stringify(from)};\n`,
  dynamic: (from: string) => `export const planted = import(${JSON.stringify(from)});\n`,
};

function lint(directory: string, path: string) {
  return spawnSync(
    process.execPath,
    [biome, "lint", "--only=style/noRestrictedImports", "--reporter=github", "--max-diagnostics=none", path],
    { cwd: directory, encoding: "utf8" },
  );
}

describe("the import table of DEVELOPERS.md is checked by lint", () => {
  let directory: string;
  let report: string;
  let status: number | null;
  const fileOf = (rule: { readonly file: string; readonly from: string }, index: number, form: string) =>
    rule.file.replace(/(planted|allowed)/, `$1-${index}-${form}`);

  // The real rules on a tree of the same shape: one run over all planted files.
  beforeAll(() => {
    directory = mkdtempSync(join(tmpdir(), "import-rules-"));
    const config = JSON.parse(readFileSync(join(root, "biome.json"), "utf8")) as Record<string, unknown>;
    delete config.$schema;
    writeFileSync(join(directory, "biome.json"), JSON.stringify({ ...config, vcs: { enabled: false } }));
    for (const rules of [forbidden, allowed]) {
      rules.forEach((rule, index) => {
        for (const [form, write] of Object.entries(forms)) {
          const path = join(directory, fileOf(rule, index, form));
          mkdirSync(dirname(path), { recursive: true });
          writeFileSync(path, write(rule.from));
        }
      });
    }
    const run = lint(directory, ".");
    report = run.stdout;
    status = run.status;
  });
  afterAll(() => rmSync(directory, { recursive: true, force: true }));

  const reportedFor = (path: string) =>
    report.split("\n").some((line) => line.includes("noRestrictedImports") && line.includes(`${path},`));

  test("a run over planted violations fails", () => expect(status).toBe(1));

  const reportedForms = (rule: { readonly file: string; readonly from: string }, index: number) =>
    Object.keys(forms).filter((form) => reportedFor(fileOf(rule, index, form)));

  for (const [index, rule] of forbidden.entries()) {
    test(`${rule.file} may not import ${rule.from}, in any form`, () => {
      expect(reportedForms(rule, index)).toEqual(Object.keys(forms));
    });
  }

  for (const [index, rule] of allowed.entries()) {
    test(`${rule.file} may import ${rule.from}`, () => expect(reportedForms(rule, index)).toEqual([]));
  }

  test("a violation planted in the tree itself fails, and the tree without it passes", () => {
    const path = `analysis/lives/planted-${process.pid}.ts`;
    mkdirSync(join(root, dirname(path)), { recursive: true });
    try {
      writeFileSync(join(root, path), forms.value("node:fs"));
      const planted = lint(root, path);
      expect(planted.status).toBe(1);
      expect(planted.stdout).toContain("noRestrictedImports");
    } finally {
      rmSync(join(root, path), { force: true });
    }
    execFileSync(process.execPath, [biome, "lint", "--only=style/noRestrictedImports", "analysis", "server", "web"], {
      cwd: root,
      stdio: "pipe",
    });
  });
});
