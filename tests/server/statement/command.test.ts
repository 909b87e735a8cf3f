import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { defaultStatement } from "../../../analysis/index.ts";
import { UsageError } from "../../../server/commands/command.ts";
import { statementCommand } from "../../../server/commands/statementCommand.ts";
import { openStore } from "../../../server/storage/openStore.ts";
import { batchOf } from "../../support/smallShop.ts";
import { shopOf, spells } from "../../support/statementShop.ts";

let folder: string;
let data: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "afterrun-statement-"));
  data = join(folder, "data");
  const store = await openStore({ folder: data });
  await store.storeBatch(batchOf(shopOf(spells(40, { nth: 4 }))));
  await store.close();
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function statement(...words: readonly string[]): Promise<{ code: number; out: readonly string[] }> {
  const out: string[] = [];
  const terminal = {
    out: (line: string) => out.push(line),
    err: () => {},
    env: {},
    clock: () => new Date("2025-06-01T12:00:00Z"),
  };
  return { code: await statementCommand.run([...words, "--data", data], terminal), out };
}

test("says the summary, stores a draft, writes every format; the same content again, another for another setting", async () => {
  const to = join(folder, "out");
  const first = await statement("--customer", "Northern Example Drilling", "--draft", "AB", "--out", to);
  expect(first.code).toBe(0);
  expect(first.out).toContain("The tool ended 10 of 40 runs, in 2,400 h: 4.17 per 1,000 h (2.26–7.07, 90 %).");
  expect(first.out).toContain("Stored as statement 1, version 1: a draft.");
  expect((await readdir(to)).sort()).toEqual(
    ["html", "json", "pdf", "pptx", "xlsx", "zip"].map((format) => `statement.${format}`),
  );
  const { issue, statement: kept } = JSON.parse(await readFile(join(to, "statement.json"), "utf8"));
  expect(issue).toMatchObject({ state: "draft", number: 1, version: 1, draftedBy: "AB" });
  expect(first.out).toContain(`Content ${kept.contentHash}`);

  const again = await statement("--customer", "Northern Example Drilling");
  expect(again.out).toContain(`Content ${kept.contentHash}`);
  const other = await statement("--customer", "Northern Example Drilling", "--run-hours", "70");
  expect(other.out).not.toContain(`Content ${kept.contentHash}`);
});

test("before and after, some tools, and a definition from a file", async () => {
  const change = await statement(
    "--change",
    "harder seal",
    "--changed-on",
    "2024-05-01",
    "--applies-to",
    "runs",
    "--serials",
    "QX-101, QX-102",
  );
  expect(change.out[0]).toMatch(/^Runs that the tool ended: /);
  expect(change.out[1]).toContain("2 tools (Quill");
  const file = join(folder, "definition.json");
  await writeFile(file, JSON.stringify({ ...defaultStatement(), runHours: 500 }));
  expect((await statement("--definition", file)).out.join(" ")).toContain("nothing is known at 500 h");
});

test.each([
  [["--change", "harder seal"], /--change and --changed-on go together/],
  [["--definition", "no/such/file.json"], /cannot be read as JSON/],
  [["something"], /"something" is not understood/],
] as const)("%j is a usage error", async (words, message) => {
  await expect(statement(...words)).rejects.toThrow(UsageError);
  await expect(statement(...words)).rejects.toThrow(message);
});

test("a setting that is none is refused, naming it", async () => {
  await expect(statement("--run-hours=-5")).rejects.toMatchObject({ code: "bad-setting" });
  await expect(statement("--units", "furlongs")).rejects.toMatchObject({ code: "bad-body", facts: { place: "units" } });
});
