import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/index.ts";
import { readSheet } from "../../../server/intake/readSheet.ts";

const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
const latin = (text: string): Uint8Array => Uint8Array.from(Buffer.from(text, "latin1"));

function refusal(bytes: Uint8Array): AnalysisError {
  try {
    readSheet(bytes, "bad.csv");
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("readSheet", () => {
  test("a German export: title lines, comments, semicolons, decimal commas, windows-1252, dates day first", () => {
    const sheet = readSheet(
      latin(
        "Werkstattbuch 2025;;;\r\n# exported 1.2.2026; do not edit\r\nSerial;Datum;Moment J1 (Nm);Größe\r\n" +
          'AD-1;05.03.2025;1850,5;"4,75"\r\n\r\nAD-2;17.03.2025;1900,25;6,5\r\n;;;\r\n',
      ),
      "builds.csv",
    );
    expect(sheet.format).toEqual({
      encoding: "windows-1252",
      delimiter: ";",
      decimal: ",",
      skipLines: 1,
      comment: "#",
      dateOrder: { Datum: "dmy" },
    });
    expect(sheet.headers).toEqual(["Serial", "Datum", "Moment J1 (Nm)", "Größe"]);
    expect(sheet.headerLine).toBe(3);
    expect(sheet.rows).toEqual([
      { line: 4, cells: ["AD-1", "05.03.2025", "1850,5", "4,75"] },
      { line: 6, cells: ["AD-2", "17.03.2025", "1900,25", "6,5"] },
    ]);
  });

  test("the byte order mark is no part of the first header; a quoted line end keeps line numbers right", () => {
    const sheet = readSheet(utf8('\ufeffRun,Notes,Hours\n1,"two\nlines",62.5\n2,plain,10\n'), "runs.csv");
    expect(sheet.headers).toEqual(["Run", "Notes", "Hours"]);
    expect(sheet.rows.map((row) => row.line)).toEqual([2, 4]);
    expect(sheet.rows[0]?.cells[1]).toBe("two\nlines");
    expect(sheet.format.encoding).toBe("utf-8");
  });

  test("a last line without line end has the right number", () => {
    expect(readSheet(utf8("a,b\n1,2\n3,4"), "x.csv").rows.map((row) => row.line)).toEqual([2, 3]);
  });

  test("old Mac line ends and tabs", () => {
    const sheet = readSheet(utf8("Run\tSerial\r1\tA1\r2\tA2\r"), "x.txt");
    expect(sheet.format.delimiter).toBe("\t");
    expect(sheet.rows).toEqual([
      { line: 2, cells: ["1", "A1"] },
      { line: 3, cells: ["2", "A2"] },
    ]);
  });

  test("UTF-16 with its mark, as spreadsheets save 'Unicode text'", () => {
    const sheet = readSheet(Uint8Array.from(Buffer.from("\ufeffRun\tOrt\n1\tKöln\n", "utf16le")), "x.txt");
    expect(sheet.format.encoding).toBe("utf-16le");
    expect(sheet.rows[0]?.cells).toEqual(["1", "Köln"]);
  });

  // windows-1252 table of encoding.spec.whatwg.org: 0x80 is the euro sign, 0x96 an en dash.
  test("windows-1252 beyond Latin-1", () => {
    const sheet = readSheet(Uint8Array.from([...utf8("Run,Cost\n1,"), 0x80, 0x96, 0xb0]), "x.csv");
    expect(sheet.rows[0]?.cells[1]).toBe("€–°");
  });

  test("an inch mark inside a cell is no quote", () => {
    expect(readSheet(utf8('Serial,Size\nA1,6-1/2" tool\nA2,4" tool\n'), "x.csv").rows[0]?.cells[1]).toBe('6-1/2" tool');
  });

  test("'#' as a header that numbers the rows is no comment", () => {
    const sheet = readSheet(utf8("#;Serial;Date\n1;A1;2025-01-02\n2;A2;2025-01-03\n"), "x.csv");
    expect(sheet.format.comment).toBeNull();
    expect(sheet.headers).toEqual(["#", "Serial", "Date"]);
  });

  test("repeated and empty headers get names of their own", () => {
    expect(readSheet(utf8("Torque,Torque,,Hours\n1,2,x,4\n"), "x.csv").headers).toEqual([
      "Torque",
      "Torque (2)",
      "column 3",
      "Hours",
    ]);
  });

  test("a format given is followed, so that the same bytes give the same cells", () => {
    const bytes = utf8("title\nRun;Hours\n1;2,5\n2;3,5\n");
    const first = readSheet(bytes, "x.csv");
    expect(readSheet(bytes, "x.csv", first.format)).toEqual(first);
  });

  test("refusals name what was found", () => {
    expect(refusal(Uint8Array.from([0x50, 0x4b, 0x03, 0x04, 1, 2, 3])).code).toBe("sheet-not-text");
    expect(refusal(Uint8Array.from({ length: 4000 }, (_, i) => (i * 7919) % 256)).code).toBe("sheet-not-text");
    expect(refusal(utf8("")).code).toBe("sheet-empty");
    expect(refusal(utf8(" \n\n")).code).toBe("sheet-empty");
    expect(refusal(utf8(`${"a,".repeat(500)}\n1\n`)).code).toBe("too-many-columns");
    expect(refusal(utf8("a,b\n".repeat(1_050_000)))).toMatchObject({
      code: "too-many-lines",
      facts: { file: "bad.csv" },
    });
    expect(refusal(utf8(`a,b\n1,${"x".repeat(10_001)}\n`))).toMatchObject({
      code: "cell-too-long",
      facts: { line: 2, limit: 10_000 },
    });
    expect(refusal(utf8('a,b\n1,2\n3,"open\n4,5\n'))).toMatchObject({ code: "quote-not-closed", facts: { line: 3 } });
  });
});
