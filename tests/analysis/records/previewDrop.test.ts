import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  type DropAnswers,
  type DropInput,
  type DropPreview,
  type DropReading,
  defaultWords,
  mapDrop,
  modeCatalogue,
  previewDrop,
  proposeMapping,
  type StoredValues,
} from "../../../analysis/index.ts";
import { encodingOf, otherShopSheets } from "../../../datasets/other-shop/generator.ts";
import { readSheet } from "../../../server/intake/readSheet.ts";

const folder = new URL("../../../datasets/other-shop/", import.meta.url);
const names = ["builds.csv", "jobs.csv", "strip.txt"] as const;
const bytesOf = (name: string): Uint8Array => readFileSync(new URL(name, folder));
const emptyWords = { version: 0, vocabularies: {} };

function previewOf(files: Readonly<Record<string, Uint8Array>>, more: Partial<DropInput> = {}): DropReading {
  const sheets = Object.entries(files).map(([file, bytes]) => ({ sheet: readSheet(bytes, file), bytes: bytes.length }));
  return previewDrop({ sheets, remembered: [], words: emptyWords, stored: [], answers: {}, ...more });
}

const otherShop = (): Readonly<Record<string, Uint8Array>> =>
  Object.fromEntries(names.map((name) => [name, bytesOf(name)]));
const text = (content: string): Uint8Array => new TextEncoder().encode(content);

/** Stores a reading the way a store keeps it: the last row of a key, whole. */
function stored(reading: DropReading): readonly StoredValues[] {
  const rows = reading.mapped.flatMap(({ mapped }) => mapped.lines.flatMap((line) => line.rows));
  return rows.map(({ table, key, values }) => ({ table, key, values }));
}

const accepted = (files: Readonly<Record<string, Uint8Array>>, more: Partial<DropInput> = {}): DropReading =>
  previewOf(files, { ...more, answers: { confirm: previewOf(files, more).confirmations.map(({ id }) => id) } });

/** Read twice over 800 lines: given time where other work shares the machine. */
const patience = { timeout: 60_000 };

describe("the other shop's sheets", patience, () => {
  const whole = accepted(otherShop());

  test("are what the seeded script writes", () => {
    for (const [file, content] of Object.entries(otherShopSheets())) {
      expect(Buffer.from(bytesOf(file)).equals(Buffer.from(content, encodingOf(file))), file).toBe(true);
    }
  });

  test("need at most twelve confirmations, and link without a loose end once all are accepted", () => {
    const first = previewOf(otherShop());
    expect(first.ready).toBe(false);
    expect(first.confirmations.length).toBeLessThanOrEqual(12);
    const reading = whole;
    expect(reading.confirmations.map(({ id }) => id)).toEqual(first.confirmations.map(({ id }) => id));
    expect(reading.ready).toBe(true);
    expect(reading.linkProblems).toEqual([]);
    expect(reading.counts).toEqual({
      lines: reading.counts.new,
      new: reading.counts.new,
      unchanged: 0,
      changed: 0,
      setAside: 0,
    });
    const rows = Object.fromEntries(reading.files.map(({ file, rowsByTable }) => [file, rowsByTable]));
    expect(rows["builds.csv"]?.redresses).toBeGreaterThanOrEqual(60);
    expect(rows["builds.csv"]?.joints).toBe(4 * (rows["builds.csv"]?.redresses ?? 0));
    expect(rows["builds.csv"]?.fitted_items).toBe(6 * (rows["builds.csv"]?.redresses ?? 0));
    expect(rows["jobs.csv"]?.runs).toBeGreaterThanOrEqual(200);
    expect(rows["strip.txt"]?.teardowns).toBeGreaterThanOrEqual(60);
    expect(reading.setup.filter((row) => row.table === "tools").length).toBeGreaterThanOrEqual(12);
    expect(reading.files.flatMap((file) => file.problems).filter((problem) => problem.code !== "not-a-number")).toEqual(
      [],
    );
  });

  test("joins to types that go over HTTP", () => {
    const preview: Omit<DropPreview, "id"> = previewOf(otherShop());
    const answers: DropAnswers = { setup: preview.setup };
    expect(previewOf(otherShop(), { answers }).confirmations.map(({ id }) => id)).not.toContain("tools");
  });

  test("the same bytes, mappings and words give the same rows again", () => {
    const reading = whole;
    const sheets = reading.mapped.map(({ mapping }, i) => ({
      sheet: readSheet(bytesOf(names[i] ?? ""), names[i] ?? "", mapping.format),
      mapping,
    }));
    expect(mapDrop({ sheets, words: reading.words })).toEqual(reading.mapped.map(({ mapped }) => mapped));
  });

  test("dropped again they are unchanged and ask nothing; an edited cell is told old and new", () => {
    const before = whole;
    const remembered = before.mapped.map(({ mapping }) => mapping);
    const rows: StoredValues[] = [...stored(before), ...before.setup.map((row) => ({ ...row, key: "setup" }))];
    const again = previewOf(otherShop(), { remembered, words: before.words, stored: rows });
    expect(again.confirmations).toEqual([]);
    expect(again.ready).toBe(true);
    expect(again.counts).toMatchObject({ new: 0, changed: 0, setAside: 0 });
    expect(again.mapped.map(({ mapping }) => mapping)).toEqual(remembered);
    expect(again.words).toBe(before.words);

    const edited = Buffer.from(bytesOf("jobs.csv")).toString("utf8").replace("68.7 h", "70.2 h");
    const changed = previewOf(
      { ...otherShop(), "jobs.csv": text(edited) },
      { remembered, words: before.words, stored: rows },
    );
    expect(changed.counts).toMatchObject({ new: 0, changed: 1, setAside: 0 });
    expect(changed.files[1]?.changes).toMatchObject([
      { field: "hours", was: 68.7, becomes: 70.2, origin: { file: "jobs.csv", line: 2 } },
    ]);
  });
});

describe("previewDrop", () => {
  const runs = (rows: string) => text(`Run,Serial,Out,Back,Hours,Why pulled\n${rows}`);

  test("dates that can be read both ways are asked, with the order assumed", () => {
    const reading = previewOf({
      "runs.csv": runs("1,A1,01/02/2025,05/02/2025,50,TD\n2,A1,03/04/2025,08/04/2025,60,TD\n"),
    });
    const dates = reading.confirmations.filter(({ kind }) => kind === "date order");
    expect(dates.map(({ proposed, answered }) => [proposed, answered])).toEqual([
      ["day, month, year", false],
      ["day, month, year", false],
    ]);
    expect(reading.files[0]?.problems.map(({ code }) => code)).toEqual(["date-order-assumed", "date-order-assumed"]);
  });

  test("a run of a serial that nobody lists is kept, with a notice; accepted setup lists it", () => {
    const files = { "runs.csv": runs("1,A1,2025-02-01,2025-02-05,50,TD\n") };
    const reading = previewOf(files, { answers: { setup: [] } });
    expect(reading.counts.new).toBe(1);
    expect(reading.linkProblems).toMatchObject([
      { code: "link-not-found", severity: "notice", column: "serial", value: "A1" },
    ]);
    expect(accepted(files).linkProblems).toEqual([]);
  });

  test("a sheet that nobody understands is set aside whole, line by line", () => {
    const reading = previewOf({ "menu.csv": text("Dish,Price\nsoup,3.5\nstew,7\n") });
    expect(reading.files[0]).toMatchObject({ mappingIs: "not understood", counts: { lines: 2, setAside: 2 } });
    expect(reading.mapped[0]?.mapped.setAside.map(({ cells }) => cells)).toEqual([
      ["soup", "3.5"],
      ["stew", "7"],
    ]);
  });

  test("unknown words get the nearest meaning, a new condition becomes a mode of its own, and answers override", () => {
    const teardowns =
      "Teardown,Serial,Date,Why,Item,Condition,Severity\nT1,A1,2025-02-01,rutine,main seal,zebra stripes,3\nT2,A1,2025-03-01,routine,main seal,lip chewd,3\n";
    const files = { "teardown.csv": text(teardowns) };
    const reading = accepted(files);
    const findings = (each: DropReading) =>
      stored(each)
        .filter((row) => row.table === "findings")
        .map((row) => row.values.condition);
    expect(findings(reading)).toEqual(["zebra stripes", "extrusion"]);
    expect(stored(reading).find((row) => row.table === "teardowns")?.values.why).toBe("planned");
    expect(reading.setup.filter((row) => row.table === "modes").map((row) => row.values.mode)).toEqual([
      "zebra stripes",
      "extrusion",
    ]);
    const answered = previewOf(files, { answers: { words: { conditions: { "Zebra Stripes": "wear" } } } });
    expect(findings(answered)).toEqual(["wear", "extrusion"]);
  });

  test("two sheets that contradict each other on one run: the later line is set aside", () => {
    const reading = previewOf({
      "a.csv": runs("1,A1,2025-02-01,2025-02-05,50,TD\n"),
      "b.csv": runs("1,A1,2025-02-01,2025-02-05,55,TD\n2,A1,2025-03-01,2025-03-05,40,TD\n"),
    });
    expect(reading.counts).toEqual({ lines: 3, new: 2, unchanged: 0, changed: 0, setAside: 1 });
    expect(reading.mapped[1]?.mapped.setAside).toMatchObject([
      { line: 2, cells: ["1", "A1", "2025-02-01", "2025-02-05", "55", "TD"] },
    ]);
    expect(reading.files[1]?.problems).toMatchObject([
      { code: "repeated-key", facts: { firstFile: "a.csv", firstLine: 2, field: "hours" } },
    ]);
    expect(reading.confirmations.filter(({ kind }) => kind === "columns")).toHaveLength(1);
  });

  test("units that nothing says are asked", () => {
    const builds = "Build,Serial,Date,J1 torque,J2 torque\nB1,A1,2025-02-01,1500,2300\n";
    const asked = previewOf({ "builds.csv": text(builds) }).confirmations.filter(({ kind }) => kind === "unit");
    expect(asked.map(({ proposed }) => proposed)).toEqual(["J1 torque: N·m; J2 torque: N·m"]);
    const said = builds.replaceAll("torque", "torque (ft-lbf)");
    expect(previewOf({ "builds.csv": text(said) }).confirmations.filter(({ kind }) => kind === "unit")).toEqual([]);
  });

  test("a list of what was renewed: the rest is carried over, if the person says so", () => {
    const builds =
      "Build,Serial,Date,J1 torque (Nm),Items renewed\nB1,A1,2025-02-01,1500,main seal; stack\nB2,A1,2025-03-01,1500,main seal\n";
    const reading = accepted({ "builds.csv": text(builds) });
    const fitted = stored(reading).filter((row) => row.table === "fitted_items" && row.values.redress === "B2");
    expect(fitted.map((row) => [row.values.item, row.values.renewed])).toEqual([
      ["main seal", true],
      ["J1", false],
      ["stack", false],
    ]);
  });
});

test("a torque said once for several joints is spread over them", () => {
  const sheet = readSheet(text("Build,Serial,Date,Torque J1-J3 (ft-lbf)\nB1,A1,2025-02-01,850\n"), "builds.csv");
  const { mapping } = proposeMapping(sheet, defaultWords);
  const joints = mapDrop({ sheets: [{ sheet, mapping }], words: defaultWords })[0]?.lines[0]?.rows.filter(
    (row) => row.table === "joints",
  );
  expect(joints?.map((row) => row.values.joint)).toEqual(["J1", "J2", "J3"]);
});

test("the mode catalogue agrees with itself", () => {
  for (const entry of modeCatalogue) {
    expect(defaultWords.vocabularies.conditions?.[entry.mode.replace("-", " ")], entry.mode).toBe(entry.mode);
    if (entry.leadsTo !== null) expect(modeCatalogue.some((other) => other.mode === entry.leadsTo)).toBe(true);
  }
});
