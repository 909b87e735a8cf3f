import { describe, expect, test } from "vitest";
import {
  defaultWords,
  type MappedSheet,
  type Mapping,
  mapRows,
  type SheetCells,
  type TableMapping,
} from "../../../analysis/index.ts";

function sheetOf(headers: readonly string[], ...rows: readonly (readonly string[])[]): SheetCells {
  return {
    file: "sheet.csv",
    sheet: null,
    format: {
      encoding: "utf-8",
      delimiter: ";",
      decimal: ",",
      skipLines: 0,
      comment: null,
      dateOrder: { Date: "dmy" },
    },
    headers,
    headerLine: 1,
    rows: rows.map((cells, i) => ({ line: i + 2, cells })),
  };
}

const mappingOf = (sheet: SheetCells, tables: readonly TableMapping[], more: Partial<Mapping> = {}): Mapping => ({
  name: "test",
  version: 1,
  fingerprint: "[]",
  format: sheet.format,
  tables,
  addRows: [],
  ...more,
});

const rowsOf = (mapped: MappedSheet) => mapped.lines.flatMap((line) => line.rows);
const problemsOf = (mapped: MappedSheet) =>
  mapped.problems.map(({ code, severity, column, value }) => [severity, code, column, value]);

const builds: TableMapping = {
  table: "redresses",
  columns: {
    redress: { join: ["Serial", "Date"], separator: " " },
    serial: { from: "Serial" },
    done_on: { from: "Date" },
    reason: { from: "Reason", words: "redress reasons" },
  },
};

describe("mapRows", () => {
  test("joints side by side, a value spread over them, and units per column and inside the cell", () => {
    const sheet = sheetOf(
      ["Serial", "Date", "T1", "T2", "T3", "Dope"],
      ["A1", "5.3.2025", "850", "850 N·m", "Good tight", "copper"],
      ["A1", "6.3.2025", "", "1.000,5", "", "zinc"],
    );
    const joints: TableMapping = {
      table: "joints",
      columns: { redress: { join: ["Serial", "Date"], separator: " " }, compound: { from: "Dope" } },
      members: [1, 2, 3].map((i) => ({
        joint: { constant: `J${i}` },
        final_torque_Nm: { from: `T${i}`, unit: "ft-lbf" },
      })),
      unlessBlank: ["final_torque_Nm"],
    };
    const mapped = mapRows(sheet, mappingOf(sheet, [joints]), defaultWords);
    const torques = rowsOf(mapped).map(({ key, values }) => [key, values.final_torque_Nm, values.compound]);
    // 850 * 1.3558179483314004 (NIST SP 811, B.8) = 1152.44525608169...
    expect(torques).toEqual([
      ['["A1 2025-03-05","J1"]', expect.closeTo(1152.4452560817, 9), "copper"],
      ['["A1 2025-03-05","J2"]', 850, "copper"],
      ['["A1 2025-03-05","J3"]', null, "copper"],
      ['["A1 2025-03-06","J2"]', expect.closeTo(1356.4958573055, 9), "zinc"],
    ]);
    expect(problemsOf(mapped)).toEqual([["notice", "not-a-number", "T3", "Good tight"]]);
    expect(rowsOf(mapped)[2]?.asWritten).toEqual({ Serial: "A1", Date: "5.3.2025", T3: "Good tight", Dope: "copper" });
  });

  test("a blank reason is not known, never planned; an unknown word too, with a notice", () => {
    const sheet = sheetOf(
      ["Serial", "Date", "Reason"],
      ["A1", "5.3.2025", ""],
      ["A2", "5.3.2025", "Routine"],
      ["A3", "5.3.2025", "qwertz"],
    );
    const mapped = mapRows(sheet, mappingOf(sheet, [builds]), defaultWords);
    expect(rowsOf(mapped).map((row) => row.values.reason)).toEqual(["not known", "planned", "not known"]);
    expect(problemsOf(mapped)).toEqual([["notice", "word-not-known", "Reason", "qwertz"]]);
  });

  test("a line without a required value, or with a cell too many, is set aside as written", () => {
    const sheet = sheetOf(
      ["Serial", "Date", "Reason"],
      ["A1", "31.4.2025", "new"],
      ["", "5.3.2025", "new"],
      ["A3", "5.3.2025", "new", "shifted"],
      ["A4", "5.3.2025"],
    );
    const mapped = mapRows(sheet, mappingOf(sheet, [builds]), defaultWords);
    expect(mapped.lines.map(({ line }) => line)).toEqual([5]);
    expect(
      mapped.setAside.map(({ line, cells, problems }) => [
        line,
        cells.length,
        problems.find((p) => p.severity === "error")?.code,
      ]),
    ).toEqual([
      [2, 3, "impossible-date"],
      [3, 3, "missing-required"],
      [4, 4, "row-too-long"],
    ]);
    expect(problemsOf(mapped)).toContainEqual(["notice", "row-too-short", null, null]);
  });

  test("a teardown repeated on each finding is taken once; blanks are filled, contradictions set aside", () => {
    const headers = ["No", "Serial", "Date", "Who", "Item", "Found"];
    const sheet = sheetOf(
      headers,
      ["T1", "A1", "5.3.2025", "", "Main  Seal", "lip chewed"],
      ["T1", "A1", "5.3.2025", "KM", "j1", "ok"],
      ["T1", "A1", "6.3.2025", "KM", "Joint 2", "ok"],
      ["T1", "A1", "5.3.2025", "KM", "", ""],
    );
    const tables: readonly TableMapping[] = [
      {
        table: "teardowns",
        repeated: true,
        columns: {
          teardown: { from: "No" },
          serial: { from: "Serial" },
          done_on: { from: "Date" },
          technician: { from: "Who" },
        },
      },
      {
        table: "findings",
        columns: {
          teardown: { from: "No" },
          item: { from: "Item", words: "items" },
          condition: { from: "Found", words: "conditions" },
        },
        unlessBlank: ["item", "condition"],
      },
    ];
    const mapped = mapRows(sheet, mappingOf(sheet, tables), defaultWords);
    expect(rowsOf(mapped).map(({ table, key }) => [table, key])).toEqual([
      ["teardowns", '["T1"]'],
      ["findings", '["T1","main seal","extrusion"]'],
      ["findings", '["T1","J1","sound"]'],
    ]);
    expect(rowsOf(mapped)[0]?.values).toMatchObject({ technician: "KM", why: "not known" });
    expect(mapped.setAside.map(({ line }) => line)).toEqual([4]);
    expect(mapped.lines.find(({ line }) => line === 5)?.rows).toEqual([]);
  });

  test("equal duplicates are kept with a notice, differing ones set aside", () => {
    const sheet = sheetOf(
      ["Serial", "Date", "Reason"],
      ["A1", "5.3.2025", "new"],
      ["A1", "5.3.2025", "new"],
      ["A1", "5.3.2025", "failure"],
    );
    const mapped = mapRows(sheet, mappingOf(sheet, [builds]), defaultWords);
    expect(mapped.lines.map(({ rows }) => rows.length)).toEqual([1, 0]);
    expect(mapped.setAside.map(({ line }) => line)).toEqual([4]);
    expect(mapped.problems.map(({ code, severity, facts }) => [code, severity, facts.firstLine])).toEqual([
      ["repeated-key", "notice", 2],
      ["repeated-key", "error", 2],
    ]);
  });

  test("patterns, splits and list cells", () => {
    const sheet = sheetOf(
      ["Serial", "Date", "Renewed"],
      ["AD650-1/x", "5.3.2025", "main seal; J1;; main seal"],
      ["ZZ", "5.3.2025", ""],
    );
    const tables: readonly TableMapping[] = [
      {
        table: "tools",
        columns: {
          serial: { split: "Serial", separator: "/", index: 0 },
          tool_type: { pattern: "^(AD|BV)", of: "Serial", becomes: { AD: "axial damper" } },
          size_in: { pattern: "^[A-Z]+(\\d{3})", of: "Serial", becomes: { "650": 6.5 } },
        },
      },
      {
        table: "fitted_items",
        columns: {
          redress: { from: "Serial" },
          renewed: { constant: true },
          item: { from: "Renewed", words: "items" },
        },
        list: { from: "Renewed", separator: ";", field: "item" },
      },
    ];
    const mapped = mapRows(sheet, mappingOf(sheet, tables), defaultWords);
    expect(rowsOf(mapped).map(({ key }) => key)).toEqual([
      '["AD650-1"]',
      '["AD650-1/x","main seal"]',
      '["AD650-1/x","J1"]',
    ]);
    expect(rowsOf(mapped)[0]?.values).toEqual({ serial: "AD650-1", tool_type: "axial damper", size_in: 6.5 });
    expect(mapped.setAside[0]?.problems.map(({ code, severity }) => [code, severity])).toEqual([
      ["pattern-did-not-match", "error"],
      ["pattern-did-not-match", "notice"],
    ]);
  });

  test("added rows only once answered, and never over a row the sheet writes down", () => {
    const sheet = sheetOf(["Serial", "Date", "Reason", "Seal new"], ["A1", "5.3.2025", "new", "N"]);
    const redress = { join: ["Serial", "Date"], separator: " " } as const;
    const written: TableMapping = {
      table: "fitted_items",
      columns: { redress, item: { constant: "main seal" }, renewed: { from: "Seal new", words: "yes or no" } },
    };
    const added = {
      table: "fitted_items",
      columns: { redress, renewed: { constant: true } },
      members: [{ item: { constant: "main seal" } }, { item: { constant: "stack" } }],
      question: "?",
      statement: ".",
    } as const;
    const mapWith = (answered: boolean) =>
      rowsOf(mapRows(sheet, mappingOf(sheet, [builds, written], { addRows: [{ ...added, answered }] }), defaultWords))
        .filter((row) => row.table === "fitted_items")
        .map((row) => [row.values.item, row.values.renewed, row.added ?? false]);
    expect(mapWith(false)).toEqual([["main seal", false, false]]);
    expect(mapWith(true)).toEqual([
      ["main seal", false, false],
      ["stack", true, true],
    ]);
  });

  test("names such as __proto__ are ordinary names", () => {
    const sheet = sheetOf(["__proto__", "Date", "constructor"], ["__proto__", "5.3.2025", "toString"]);
    const table: TableMapping = {
      table: "redresses",
      columns: {
        redress: { from: "__proto__" },
        serial: { from: "__proto__" },
        done_on: { from: "Date" },
        reason: { from: "constructor", words: "redress reasons" },
        technician: { pattern: "^(\\w+)$", of: "__proto__", becomes: { a: "b" } },
      },
    };
    const mapped = mapRows(sheet, mappingOf(sheet, [table]), defaultWords);
    const [row] = rowsOf(mapped);
    expect(row?.key).toBe('["__proto__"]');
    expect(Object.hasOwn(row?.asWritten ?? {}, "__proto__")).toBe(true);
    expect(row?.values).toMatchObject({ serial: "__proto__", reason: "not known", technician: null });
    expect(Object.hasOwn(Object.prototype, "serial")).toBe(false);
  });

  test("mappings that cannot be applied are refused with what is wrong", () => {
    const sheet = sheetOf(["Serial"], ["A1"]);
    const refused = (table: TableMapping) => () => mapRows(sheet, mappingOf(sheet, [table]), defaultWords);
    expect(refused({ table: "tools", columns: { colour: { from: "Serial" } } })).toThrow(/no such field/);
    expect(refused({ table: "tools", columns: { serial: { pattern: "(a+)+", of: "Serial" } } })).toThrow(
      /nested quantifiers/,
    );
    expect(
      mapRows(sheet, mappingOf(sheet, [{ table: "tools", columns: { serial: { from: "gone" } } }]), defaultWords)
        .problems[0],
    ).toMatchObject({
      code: "no-such-column",
      origin: { line: 1 },
    });
  });
});
