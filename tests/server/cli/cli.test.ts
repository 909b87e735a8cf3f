import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { itemLifeResult } from "../../../server/contracts/results.ts";
import { callAfterrun, startAfterrun, startUnread } from "../../support/commandLine.ts";
import { smallSheets } from "../../support/smallSheets.ts";

const root = fileURLToPath(new URL("../../../", import.meta.url));
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "afterrun-cli-"));
  await mkdir(join(folder, "sheets"));
  for (const [name, text] of Object.entries(smallSheets)) await writeFile(join(folder, "sheets", name), text);
  await writeFile(join(folder, "sheets", "notes.docx"), "not a sheet");
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const afterrun = (...words: readonly string[]) => callAfterrun({ data: join(folder, "data") }, ...words);
/** Started as a person would: what only a process can show. */
const started = (...words: readonly string[]) => startAfterrun({ data: join(folder, "data") }, ...words);

describe("a folder of sheets, from import to answer", () => {
  test("with open questions it shows them, stores nothing and ends with 1", async () => {
    const { code, out, err } = await started("import", join(folder, "sheets"));
    expect([code, err.trim().startsWith("Nothing was stored.")]).toEqual([1, true]);
    expect(out).toContain("runs.csv: 6 lines: 6 new, 0 unchanged, 0 changed, 0 set aside. Mapping proposed.");
    expect(out).toMatch(/teardowns\.csv, line 8, column Date: .*The row is set aside/);
    expect(out).toContain("Still to be confirmed:");
    expect(out).toContain("A rebuild renews main seal");
    expect(out).not.toContain("notes.docx");
  });

  test("a question asked too early is refused with 1, not answered from nothing", async () => {
    const { code, err } = await afterrun("study", "item-life", "--item", "main seal", "--mode", "wear");
    expect(code).toBe(1);
    expect(err).toContain("There is no life in this scope to estimate from.");
    expect(err).not.toMatch(/\bat .*\.ts:\d+/);
  });

  test("--accept-proposals stores the drop and lists what was accepted", async () => {
    const { code, out } = await started("import", join(folder, "sheets"), "--accept-proposals", "--initials", "AB");
    expect(code).toBe(0);
    expect(out).toContain("Accepted as proposed:");
    expect(out).not.toContain("Still to be confirmed:");
    expect(out).toContain("Stored as batch 1: 22 lines: 21 new, 0 unchanged, 0 changed, 1 set aside.");
  });

  test("a study says its answer and writes JSON and CSV that agree", async () => {
    const to = join(folder, "out");
    const { code, out } = await afterrun(
      "study",
      "item-life",
      "--item",
      "main seal",
      "--mode",
      "wear",
      "--confidence",
      "0.8",
      "--out",
      to,
    );
    expect(code).toBe(0);
    expect(out).toContain("3 failures among 6 followed");
    expect((await readdir(to)).sort()).toEqual([
      "item-life-curve.csv",
      "item-life-lives.csv",
      "item-life-numbers.csv",
      "item-life-steps.csv",
      "item-life.json",
    ]);
    const result = itemLifeResult.parse(JSON.parse(await readFile(join(to, "item-life.json"), "utf8")));
    expect(result.definition.confidence).toBe(0.8);
    const numbers = await readFile(join(to, "item-life-numbers.csv"), "utf8");
    expect(numbers).toContain(`main seal,wear,median,${result.readings.median.value},`);
    const lives = (await readFile(join(to, "item-life-lives.csv"), "utf8")).trim().split("\r\n");
    expect(lives.length).toBe(1 + result.counts.lives);
  });

  test("the other questions are answered too; a serial that is not there is refused", async () => {
    const fails = await afterrun("study", "what-fails");
    expect([fails.code, fails.out.includes("per 1,000 h")]).toEqual([0, true]);
    const tool = await afterrun("study", "tool", "--serial", "QX-101");
    expect([tool.code, tool.out.startsWith("QX-101")]).toEqual([0, true]);
    const none = await afterrun("study", "tool", "--serial", "NO-1");
    expect([none.code, none.err.includes("NO-1")]).toEqual([1, true]);
  });

  test("a rebuild from the journal gives equal tables", async () => {
    const { code, out } = await afterrun("rebuild");
    expect(code).toBe(0);
    expect(out).toContain("stored 1 batches again");
    expect(out).toContain("All tables are equal to those before.");
  });

  test("what the shop's words mean and how its sheets are read goes out as a file, and into another store by a look first", async () => {
    const [file, data] = [join(folder, "setup.json"), join(folder, "second")];
    const out = await afterrun("setup", "export", file);
    expect([out.code, out.out]).toEqual([
      0,
      expect.stringMatching(/^Wrote \d+ phrases, \d+ mappings, rows: .*setup\.json\.\n$/),
    ]);
    expect((await afterrun("setup", "export", file)).code).toBe(1);
    const look = await afterrun("setup", "import", file, "--preview", "--data", data);
    expect([look.code, look.out]).toEqual([0, expect.stringContaining("Nothing was stored: this was a preview.")]);
    const brought = await afterrun("setup", "import", file, "--initials", "AB", "--data", data);
    expect([brought.code, brought.out]).toEqual([0, expect.stringContaining("Stored as batch 1.")]);
    const again = await afterrun("setup", "import", file, "--data", data);
    expect(again.out).toContain("Words: 0 new, 0 changed.");
    expect(again.out).toContain("Nothing was stored: all of it was known.");
    const sheets = await afterrun("import", join(folder, "sheets"), "--data", data);
    expect(sheets.out).toContain("runs.csv: 6 lines: 6 new, 0 unchanged, 0 changed, 0 set aside. Mapping remembered.");
    await writeFile(file, "no JSON");
    expect((await afterrun("setup", "import", file, "--data", data)).code).toBe(1);
  });

  test("a folder without sheets is refused, and what a sheet is called is said", async () => {
    await mkdir(join(folder, "empty"));
    const { code, err } = await afterrun("import", join(folder, "empty"));
    expect(code).toBe(1);
    for (const ending of [".csv", ".tsv", ".txt", ".xlsx", ".xlsm"]) expect(err).toContain(ending);
  });

  test("the same folder again changes nothing", async () => {
    const { code, out } = await afterrun("import", join(folder, "sheets"), "--accept-proposals");
    expect(code).toBe(0);
    expect(out).toContain("All sheets: 22 lines: 0 new, 21 unchanged, 0 changed, 1 set aside.");
  });
});

describe("another shop's sheets", () => {
  // Shapes that the sample does not have: ';' and a comment line, four torques side by side, a strip list.
  test("are read without a mapping, and answer a first question", async () => {
    const data = join(folder, "other");
    const imported = await afterrun("import", join(root, "datasets/other-shop"), "--accept-proposals", "--data", data);
    expect(imported.code).toBe(0);
    const questions = imported.out.split("Accepted as proposed:")[1]?.match(/^ {4}Proposed: /gm) ?? [];
    expect(questions.length).toBeGreaterThan(0);
    expect(questions.length).toBeLessThanOrEqual(12);
    const fails = await afterrun("study", "what-fails", "--data", data);
    expect([fails.code, fails.err]).toEqual([0, ""]);
    expect(fails.out).toMatch(/per 1,000 h/);
  });
});

describe("a sheet that lists lives", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3: Weibull maximum likelihood for 20 units, 10 of them
  // failed by 500 h; shape printed as 1.7208, scale as 606.528 (beside the data in datasets/published).
  test("is fitted with bounds", async () => {
    const to = join(folder, "nist");
    const { code, out } = await afterrun("lives", join(root, "datasets/published/nist-20-units.csv"), "--out", to);
    expect(code).toBe(0);
    expect(out).toContain("20 lives, 10 failures");
    const { fit } = JSON.parse(await readFile(join(to, "nist-20-units.json"), "utf8"));
    expect(Math.abs(fit.shape - 1.7208)).toBeLessThan(0.00005);
    expect(Math.abs(fit.scale - 606.528)).toBeLessThan(0.0005);
  });

  test("that holds no failure is refused in words", async () => {
    const path = join(folder, "alive.csv");
    await writeFile(path, "Age (h),How it ended\n100,still good at\n200,still good at\n");
    const { code, err } = await afterrun("lives", path);
    expect(code).toBe(1);
    expect(err).toContain("none of these lives has failed");
  });
});

describe("what is not understood", () => {
  test.each([
    [[], 2, "Usage:"],
    [["help"], 0, "Usage:"],
    [["fly"], 2, 'There is no command "fly"'],
    [["setup", "out", "x"], 2, "setup takes export or import"],
    [["import"], 2, "import takes one folder"],
    [["import", "a", "b"], 2, "import takes one folder"],
    [["import", "x", "--fast"], 2, "--fast"],
    [["study"], 2, "study takes item-life"],
    [["study", "tool"], 2, "--serial"],
    [["study", "item-life", "--confidence", "90"], 2, '"confidence"'],
    [["lives", "sheet.csv", "--confidence", "90"], 2, "--confidence"],
    [["import", "/no/such/folder"], 1, "there is no such file or folder"],
    [["lives", "/no/such/sheet.csv"], 1, "there is no such file or folder"],
    [["rebuild", "--data", "/no/such/data"], 1, "journal"],
  ])("%j ends with %i and says why", async (words, expected, said) => {
    const { code, out, err } = await afterrun(...words);
    expect(code).toBe(expected);
    expect(out + err).toContain(said);
    expect(err).not.toMatch(/\bat .*\.ts:\d+/);
  });

  test("whoever stops reading stops nothing: the work is finished, the folder given back", async () => {
    const { code, err } = await startUnread({ data: join(folder, "data") }, "study", "what-fails");
    expect({ code, err }).toEqual({ code: 0, err: "" });
    const lock = join(folder, "data", "lock");
    const [newest = ""] = (await readdir(lock)).filter((name) => name.endsWith(".json"));
    expect(JSON.parse(await readFile(join(lock, newest), "utf8"))).toMatchObject({ released: true });
  });

  test("a process ends with the code as well", async () => {
    const { code, err } = await started("fly");
    expect([code, err]).toEqual([2, expect.stringContaining('There is no command "fly"')]);
  });

  test("openapi prints the description", async () => {
    const { code, out } = await afterrun("openapi");
    expect(code).toBe(0);
    expect(JSON.parse(out).openapi).toBe("3.1.0");
  });
});
