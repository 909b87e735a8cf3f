import { zipSync } from "fflate";
import readByLibrary from "read-excel-file/node";
import { describe, expect, test } from "vitest";
import writeByLibrary from "write-excel-file/node";
import { AnalysisError, sayError, tabNameHeader } from "../../../analysis/index.ts";
import { readFile } from "../../../server/intake/readFile.ts";
import { numberStyle, numberText } from "../../../server/intake/workbook/cellText.ts";
import { readWorkbook } from "../../../server/intake/workbook/readWorkbook.ts";
import { type HandmadeTab, handmadeWorkbook, workbookParts } from "../../support/workbooks.ts";

const read = (...tabs: readonly HandmadeTab[]) => readWorkbook(handmadeWorkbook({ tabs }), "book.xlsx");
const one = (rows: HandmadeTab["rows"], merges: readonly string[] = []) => {
  const [sheet] = read({ name: "Log", rows: rows ?? [], merges });
  if (sheet === undefined) throw new Error("no sheet");
  return sheet;
};
const cellsOf = (sheet: { readonly rows: readonly { readonly cells: readonly string[] }[] }) =>
  sheet.rows.map(({ cells }) => cells.slice(0, -1));

function refusal(bytes: Uint8Array, file = "book.xlsx"): AnalysisError {
  try {
    readFile(bytes, file);
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("cells as the sheet shows them", () => {
  // ECMA-376, Part 1, 18.17.4.1 and its examples of serials: 1 is 1900-01-01, 60 a day that no calendar has, 61 is
  // 1900-03-01; 2958465 is 9999-12-31; in the 1904 system 0 is 1904-01-01. The two systems are 1462 days apart.
  test.each([
    ["1", "yyyy-mm-dd", false, "1900-01-01"],
    ["59", "d/m/yy", false, "1900-02-28"],
    ["60", "d/m/yy", false, "1900-02-29"],
    ["61", "d/m/yy", false, "1900-03-01"],
    ["2958465", "m/d/yyyy", false, "9999-12-31"],
    ["2958466", "m/d/yyyy", false, "2958466"],
    ["-1", "m/d/yyyy", false, "-1"],
    ["0", "dd.mm.yyyy", true, "1904-01-01"],
    ["45658", "dd.mm.yyyy", false, "2025-01-01"],
    [String(45658 - 1462), "dd.mm.yyyy", true, "2025-01-01"],
    ["45658.25", "dd.mm.yyyy hh:mm", false, "2025-01-01 06:00"],
    ["45658.999999999", "dd.mm.yyyy hh:mm", false, "2025-01-02"],
    ["45658.25", "dd.mm.yyyy", false, "2025-01-01"],
    ["0.52604166666", "h:mm AM/PM", false, "12:37:30"],
    ["2.604166666666667", "[h]:mm", false, "62.5 h"],
    ["123", "00000", false, "00123"],
    ["0.05", "0%", false, "5%"],
    ["0.30000000000000004", "General", false, "0.3"],
    ["1.8504999999999999E3", '#,##0.00" Nm"', false, "1850.5"],
    ["1850", '"days" 0', false, "1850"],
    ["12", "[Red]0", false, "12"],
    ["45658", '[$-407]d". "mmmm yyyy', false, "2025-01-01"],
  ])("%s under %s (1904: %s) is %s", (written, code, from1904, shown) => {
    expect(numberText(written, numberStyle(200, code), from1904)).toBe(shown);
  });

  test("formulas by their value, errors as text with a notice, a formula without a value as blank with a notice", () => {
    const sheet = one([
      ["Run", "Hours", "Notes"],
      [1, '<c r="@"><f>SUM(A1:A2)</f><v>62.5</v></c>', '<c r="@" t="str"><f>A1&amp;"x"</f><v>kept</v></c>'],
      [2, '<c r="@" t="e"><f>1/0</f><v>#DIV/0!</v></c>', '<c r="@" t="b"><v>1</v></c>'],
      [3, '<c r="@"><f>B2*2</f></c>', '=HYPERLINK("http://x")'],
    ]);
    expect(cellsOf(sheet)).toEqual([
      ["1", "62.5", "kept"],
      ["2", "#DIV/0!", "TRUE"],
      ["3", "", '=HYPERLINK("http://x")'],
    ]);
    expect(sheet.notices?.map(({ code, origin, column }) => [code, origin.sheet, origin.line, column])).toEqual([
      ["cell-error", "Log", 3, "Hours"],
      ["formula-without-value", "Log", 4, "Hours"],
    ]);
  });

  test("the same cells as a reader of other make", async () => {
    const day = new Date(Date.UTC(2025, 2, 5));
    const rows = Array.from({ length: 40 }, (_, index) => [
      { value: `AD-${index} <&"'> ü ${"x".repeat(index)}` },
      { value: index * 1.1 + 1e-7 },
      { value: new Date(day.getTime() + index * 86_400_000), format: "dd/mm/yyyy" },
      index % 3 === 0 ? null : { value: index % 2 === 0 },
    ]);
    const headers = ["Serial", "Hours", "Date", "New"].map((value) => ({ value }));
    const bytes = await writeByLibrary([headers, ...rows], { sheet: "Log" }).toBuffer();
    const [theirs] = await readByLibrary(bytes, { trim: false });
    const [ours] = readWorkbook(new Uint8Array(bytes), "book.xlsx");
    const shown = (value: unknown): string =>
      value === null
        ? ""
        : value instanceof Date
          ? value.toISOString().slice(0, 10)
          : typeof value === "number"
            ? String(Number(value.toPrecision(15)))
            : typeof value === "boolean"
              ? String(value).toUpperCase()
              : String(value);
    const [, ...data] = theirs?.data ?? [];
    expect(data.length).toBe(40);
    expect(cellsOf(ours ?? { rows: [] })).toEqual(data.map((row) => row.map(shown)));
  });

  test("where text cells show a decimal comma, numbers are written with it", () => {
    const sheet = one([
      ["Serial", "Moment", "Stunden"],
      ["A1", 1850.5, "62,5"],
      ["A2", 1900, "12,25"],
    ]);
    expect(sheet.format.decimal).toBe(",");
    expect(cellsOf(sheet)).toEqual([
      ["A1", "1850,5", "62,5"],
      ["A2", "1900", "12,25"],
    ]);
  });
});

describe("the shape of a tab", () => {
  test("title rows, two-line headers under merged cells, lines numbered as in the workbook", () => {
    const sheet = one(
      [
        ["Workshop log 2025"],
        [],
        ["Build", "Serial", "Torque", null, null, "Notes"],
        [null, null, "J1", "J2", "J3"],
        ["B1", "AD-1", 2500, 2510, 2520, "ok"],
        ["B2", "AD-2", 2500, 2510, 2530, "ok"],
      ],
      ["A1:F1", "A3:A4", "B3:B4", "C3:E3", "F3:F4"],
    );
    expect(sheet.headers).toEqual(["Build", "Serial", "Torque J1", "Torque J2", "Torque J3", "Notes", tabNameHeader]);
    expect(sheet.format).toMatchObject({ skipLines: 1, headerLines: 2 });
    expect([sheet.headerLine, sheet.rows.map(({ line }) => line)]).toEqual([4, [5, 6]]);
    expect(readWorkbook(handmadeWorkbook({ tabs: [{ name: "Log", rows: [["x"]] }] }), "x.xlsx")[0]?.rows).toEqual([]);
  });

  test.each([
    [
      "merged or not, the group stands over the columns of one shape",
      [
        ["", "", "Torque", "", "", ""],
        ["Build", "Serial", "J1", "J2", "J3", "Notes"],
      ],
      ["Build", "Serial", "Torque J1", "Torque J2", "Torque J3", "Notes"],
    ],
    [
      "units on a line of their own",
      [
        ["Serial", "Hours", "Torque"],
        ["", "h", "(ft-lbf)"],
      ],
      ["Serial", "Hours (h)", "Torque (ft-lbf)"],
    ],
    [
      "a title at the left is no group",
      [
        ["Builds of spring", "", "", ""],
        ["Build", "Serial", "Size", "Notes"],
      ],
      ["Build", "Serial", "Size", "Notes"],
    ],
    [
      "a first row of words is no header",
      [
        ["Serial", "Item", "Found"],
        ["AD-1", "main seal", "worn"],
      ],
      ["Serial", "Item", "Found"],
    ],
  ])("%s", (_what, lines, headers) => {
    const data = [
      ["B1", "AD-1", "2500", "2510", "2520", "ok"],
      ["B2", "AD-2", "2500", "2510", "2530", "ok"],
    ].map((cells) => cells.slice(0, headers.length));
    const sheet = one([...lines, ...data].map((cells) => cells.map((cell) => (cell === "" ? null : cell))));
    expect(sheet.headers.slice(0, -1)).toEqual(headers);
  });

  test("merged cells are spread below the headers, over lines and columns", () => {
    const sheet = one(
      [
        ["Serial", "Date", "J1 torque", "J2 torque"],
        ["AD-1", "2025-01-02", 2500, null],
        [null, null, 2600, 2610],
        ["AD-2", "2025-01-09", 2500, 2510],
      ],
      ["A2:A3", "B2:B3", "C2:D2", "A9:D9", "A1:XFD1"],
    );
    expect(cellsOf(sheet)).toEqual([
      ["AD-1", "2025-01-02", "2500", "2500"],
      ["AD-1", "2025-01-02", "2600", "2610"],
      ["AD-2", "2025-01-09", "2500", "2510"],
    ]);
    expect(sheet.format.fillDown).toBeUndefined();
  });

  test("blocks with blanks are proposed for filling down, never filled by the reader", () => {
    const sheet = one([
      ["Teardown", "Serial", "Item", "Condition"],
      ["T1", "AD-1", "main seal", "sound"],
      [null, null, "J1", "sound"],
      [null, null, "J2", "galling"],
      ["T2", "AD-2", "main seal", "wear"],
      [null, null, "J1", "sound"],
    ]);
    expect(sheet.format.fillDown).toEqual(["Teardown", "Serial"]);
    expect(sheet.rows[1]?.cells[0]).toBe("");
    const gaps = one([
      ["Run", "Serial", "Notes"],
      ["1", "AD-1", null],
      [null, "AD-2", "no number"],
      ["3", "AD-3", null],
      ["4", "AD-4", null],
    ]);
    expect(gaps.format.fillDown).toBeUndefined();
  });

  test("each tab is a sheet; hidden and empty ones are said", () => {
    const rows = [
      ["Run", "Hours"],
      [1, 2],
    ];
    const sheets = read({ name: "AD-1", rows }, { name: "blank" }, { name: "old & hidden", hidden: true, rows });
    expect(sheets.map(({ sheet }) => sheet)).toEqual(["AD-1", "old & hidden"]);
    expect(sheets.map(({ rows: [row] }) => row?.cells.at(-1))).toEqual(["AD-1", "old & hidden"]);
    expect(sheets.map(({ notices = [] }) => notices.map(({ code, origin }) => [code, origin.sheet]))).toEqual([
      [["tab-empty", "blank"]],
      [["tab-hidden", "old & hidden"]],
    ]);
  });

  test("a format given is followed, so that the same bytes give the same cells", () => {
    const bytes = handmadeWorkbook({ tabs: [{ name: "Log", rows: [["t"], ["Run", "Std"], [1, 2.5], [2, "2,5"]] }] });
    const [first] = readWorkbook(bytes, "x.xlsx");
    expect(readWorkbook(bytes, "x.xlsx", { formatOf: () => first?.format })).toEqual([first]);
  });
});

describe("hostile and broken workbooks", () => {
  const rows = [
    ["Run", "Serial"],
    [1, "A1"],
    [2, "A2"],
  ];
  const good = handmadeWorkbook({ tabs: [{ name: "Log", rows }] });

  test("a bomb is given up before any reader sees it, and says so", () => {
    const parts = workbookParts({ tabs: [{ name: "Log", rows }] });
    const bomb = zipSync({ ...parts, "xl/worksheets/sheet1.xml": new Uint8Array(150_000_000).fill(32) }, { level: 1 });
    const memory = process.memoryUsage().arrayBuffers;
    expect(() => readWorkbook(bomb, "book.xlsx", { unpackedBytes: 20_000_000 })).toThrow("workbook-unpacks-too-large");
    expect(process.memoryUsage().arrayBuffers - memory).toBeLessThan(100_000_000);
    const facts = { file: "book.xlsx", bytes: 455_000, limit: 320_000_000 };
    expect(sayError(new AnalysisError("workbook-unpacks-too-large", facts))).toContain(
      "book.xlsx is 0.5 MB and unpacks to more than 320 MB",
    );
  });

  test.each([
    ["cut off", good.subarray(0, Math.floor(good.length * 0.6)), "workbook-damaged"],
    ["an archive of other things", zipSync({ "readme.txt": new Uint8Array(3) }), "workbook-not-readable"],
    [
      "an open document",
      zipSync({ mimetype: new Uint8Array(3), "content.xml": new Uint8Array(3) }),
      "workbook-not-readable",
    ],
    ["a binary workbook", zipSync({ "xl/workbook.bin": new Uint8Array(3) }), "workbook-not-readable"],
    [
      "a workbook of before 2007",
      Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, ...Array(600).fill(0)]),
      "workbook-not-readable",
    ],
    ["no tab", handmadeWorkbook({ tabs: [] }), "sheet-empty"],
    ["only empty tabs", handmadeWorkbook({ tabs: [{ name: "a" }, { name: "b" }] }), "sheet-empty"],
    [
      "a thousand tabs",
      handmadeWorkbook({ tabs: Array.from({ length: 1000 }, (_, i) => ({ name: `t${i}` })) }),
      "too-many-tabs",
    ],
    [
      "a document type",
      handmadeWorkbook({ tabs: [{ name: "a", xml: '<!DOCTYPE x [<!ENTITY a "b">]><worksheet/>' }] }),
      "workbook-damaged",
    ],
    [
      "a line far out",
      handmadeWorkbook({
        tabs: [{ name: "a", xml: '<sheetData><row r="999999999"><c r="A1"><v>1</v></c></row></sheetData>' }],
      }),
      "workbook-damaged",
    ],
    [
      "a column far out",
      handmadeWorkbook({
        tabs: [{ name: "a", xml: '<sheetData><row r="1"><c r="ZZZZZZ1"><v>1</v></c></row></sheetData>' }],
      }),
      "workbook-damaged",
    ],
    [
      "a text that is not there",
      handmadeWorkbook({ tabs: [{ name: "a", rows: [['<c r="@" t="s"><v>7</v></c>']] }] }),
      "workbook-damaged",
    ],
    ["too many columns", handmadeWorkbook({ tabs: [{ name: "a", rows: [Array(401).fill("x")] }] }), "too-many-columns"],
    ["a cell too long", handmadeWorkbook({ tabs: [{ name: "a", rows: [["x".repeat(10_001)]] }] }), "cell-too-long"],
    [
      "overlapping merged cells",
      handmadeWorkbook({ tabs: [{ name: "a", rows, merges: Array(50).fill("A2:B3") }] }),
      "workbook-damaged",
    ],
  ])("%s is refused with the file's name and what to do", (_what, bytes, code) => {
    const error = refusal(bytes);
    expect(error.code).toBe(code);
    expect(error.facts.file).toBe("book.xlsx");
    expect(sayError(error)).toMatch(/^book\.xlsx.*\. [A-Z].*\.$/);
  });

  test("locked with a password is told from old", () => {
    const container = Buffer.concat([
      Buffer.from([0xd0, 0xcf, 0x11, 0xe0]),
      Buffer.alloc(600),
      Buffer.from("EncryptedPackage", "utf16le"),
    ]);
    expect(sayError(refusal(new Uint8Array(container)))).toBe(
      "book.xlsx is locked with a password. Open it, take the password off, save it and drop it again.",
    );
  });

  test("a format is told by the bytes, not by the name", () => {
    expect(readFile(good, "runs.csv").map(({ sheet }) => sheet)).toEqual(["Log"]);
    expect(readFile(new TextEncoder().encode("a,b\n1,2\n"), "runs.xlsx").map(({ sheet }) => sheet)).toEqual([null]);
  });

  test("styled but empty cells out to the last column, and names from the prototype, do no harm", () => {
    const far =
      '<row r="1"><c r="A1" t="inlineStr"><is><t>__proto__</t></is></c><c r="B1" t="inlineStr"><is><t>constructor</t></is></c><c r="XFD1" s="0"/></row><row r="2"><c r="A2"><v>1</v></c><c r="B2"><v>2</v></c></row>';
    const [sheet] = readWorkbook(
      handmadeWorkbook({ tabs: [{ name: "__proto__", xml: `<sheetData>${far}</sheetData>` }] }),
      "x.xlsx",
    );
    expect(sheet?.headers).toEqual(["__proto__", "constructor", tabNameHeader]);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  test("every cut and every changed byte is read or refused, never a crash", () => {
    const bytes = handmadeWorkbook({ tabs: [{ name: "Log", rows, merges: ["A2:A3"] }], strings: ["x"] });
    for (let at = 0; at < bytes.length; at += 3) {
      for (const changed of [bytes.subarray(0, at), bytes.map((byte, index) => (index === at ? byte ^ 0x55 : byte))]) {
        try {
          readFile(changed, "x.xlsx");
        } catch (error) {
          expect(error).toBeInstanceOf(AnalysisError);
        }
      }
    }
  });
});
