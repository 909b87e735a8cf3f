import { expect, test } from "vitest";
import { toCsv } from "../../../server/routes/csv.ts";
import { fileNames } from "../../../server/routes/upload.ts";

// RFC 4180, section 2: CRLF line ends, quotes doubled inside quoted cells.
test("cells with commas, quotes or line ends are quoted, null is empty", () => {
  expect(
    toCsv(
      ["a", "b,c"],
      [
        ['say "hi"', null],
        ["two\nlines", 1.5],
      ],
    ),
  ).toBe('a,"b,c"\r\n"say ""hi""",\r\n"two\nlines",1.5\r\n');
});

// OWASP, "CSV Injection": cells that begin with = + - @ tab or carriage return.
test("a text that a spreadsheet would run is led by an apostrophe; numbers stay numbers", () => {
  const cells = ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "-12.5", "+7", -3];
  expect(toCsv(cells.map(String), []).trimEnd()).toBe(
    ["'=1+1", "'+cmd|' /C calc'!A0", "'-2+3", "'@SUM(A1)", "'\t=1", "-12.5", "+7", "-3"].join(","),
  );
});

test("file names lose paths and control characters, and each is used once", () => {
  expect(
    fileNames(["../../etc/passwd", "C:\\shop\\runs.csv", "runs.csv", "runs.csv", "..", "", "a\u0000b\u202E.csv"]),
  ).toEqual(["passwd", "runs.csv", "runs (2).csv", "runs (3).csv", "sheet", "sheet (2)", "ab.csv"]);
});
