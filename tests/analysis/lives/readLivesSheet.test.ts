import { describe, expect, test } from "vitest";
import type { SheetCells } from "../../../analysis/index.ts";
import { readLivesSheet } from "../../../analysis/lives/readLivesSheet.ts";
import { sayLivesSheetProblem } from "../../../analysis/wording/sayLivesSheetProblem.ts";

/** Cells as `readSheet` cuts them; the header stands on line 3, as under two title lines. */
function cellsOf(text: string, decimal: "." | "," = "."): SheetCells {
  const [headers = [], ...rows] = text
    .trim()
    .split("\n")
    .map((line) => line.split("|").map((cell) => cell.trim()));
  return {
    file: "fans.csv",
    sheet: null,
    format: { encoding: "utf-8", delimiter: "|", decimal, skipLines: 2, comment: null, dateOrder: {} },
    headers,
    headerLine: 3,
    rows: rows.map((cells, index) => ({ line: 4 + index, cells })),
  };
}

const ends = (text: string) =>
  readLivesSheet(cellsOf(text)).lives.map(({ lower, upper, entry, count }) => [lower, upper, entry, count]);
const codes = (text: string) =>
  readLivesSheet(cellsOf(text)).problems.map(({ code, origin, column }) => `${code} ${origin.line} ${column}`);

describe("readLivesSheet", () => {
  test("each ending becomes its interval", () => {
    const text = `
      Age (h) | Lower (h) | Upper (h) | How it ended   | Count
      62.5    |           |           | failed at      |
      100     |           |           | Failed before  | 3
              | 50        | 90        | failed between | 2
      120     |           |           | still good at  | 40`;
    expect(ends(text)).toEqual([
      [62.5, 62.5, 0, 1],
      [0, 100, 0, 3],
      [50, 90, 0, 2],
      [120, null, 0, 40],
    ]);
    expect(readLivesSheet(cellsOf(text)).unit).toBe("h");
  });

  test("without a column for the ending, lower and upper say it", () => {
    expect(ends("Lower|Upper\n5|5\n5|9\n0|9\n7|")).toEqual([
      [5, 5, 0, 1],
      [5, 9, 0, 1],
      [0, 9, 0, 1],
      [7, null, 0, 1],
    ]);
  });

  test("failed before, of a unit that was seen sound at entry, failed after the entry", () => {
    expect(ends("Entry|Age|Ended\n40|90|failed before\n40|90|failed at\n40|90|running")).toEqual([
      [40, 90, 40, 1],
      [90, 90, 40, 1],
      [90, null, 40, 1],
    ]);
  });

  test("other columns are covariates as written, and a name column gives the identity", () => {
    const sheet = readLivesSheet(cellsOf("Serial|Age|Ended|Lot|Torque\nA1|10|failed|L7|good tight\n|12|good|L8|"));
    expect(sheet.covariates).toEqual(["Lot", "Torque"]);
    expect(sheet.lives.map(({ id, line, covariates }) => [id, line, covariates])).toEqual([
      ["A1", 4, { Lot: "L7", Torque: "good tight" }],
      ["line 5", 5, { Lot: "L8", Torque: "" }],
    ]);
  });

  test("a decimal comma is read as the sheet's format says, and the sheet's own unit may stand in the cell", () => {
    expect(readLivesSheet(cellsOf("Age (h)|Ended\n62,5 hrs|failed", ",")).lives[0]?.lower).toBe(62.5);
    expect(codes("Age (h)|Ended\n3 days|failed")).toEqual(["not-a-number 4 Age (h)"]);
  });

  test("0 and 1 are not guessed: sheets differ in which of them is the failure", () => {
    expect(codes("Age|Status\n10|1")).toEqual(["no-ending-column 3 null"]);
    expect(codes("Age|Ended\n10|1\n12|0")).toEqual(["ending-not-known 4 Ended", "ending-not-known 5 Ended"]);
  });

  test.each([
    ["Age|Ended\n|failed", "missing 4 Age"],
    ["Age|Ended\n12|", "missing 4 Ended"],
    ["Age|Ended\n12x|failed", "not-a-number 4 Age"],
    ["Age|Ended\n-3|failed", "below-zero 4 Age"],
    ["Age|Ended|Count\n3|failed|0", "count-not-above-zero 4 Count"],
    ["Age|Ended|Count\n3|failed|-1", "below-zero 4 Count"],
    ["Lower|Upper|Ended\n9|5|failed between", "lower-above-upper 4 Lower"],
    ["Lower|Upper|Ended\n9|9|failed between", "nothing-between 4 Lower"],
    ["Lower|Upper|Ended\n9||failed between", "missing 4 Upper"],
    ["Lower|Upper|Ended\n|0|failed before", "nothing-between 4 Upper"],
    ["Lower|Upper|Ended\n9|12|still good", "contradicts-ending 4 Upper"],
    ["Age|Lower|Ended\n12|9|failed at", "contradicts-ending 4 Lower"],
    ["Age|Upper|Ended\n12|15|failed before", "contradicts-ending 4 Upper"],
    ["Age|Entry|Ended\n12|15|failed", "entry-beyond-end 4 Entry"],
    ["Age|Ended\n12|failed|more", "too-many-cells 4 null"],
    ["Lower|Upper\n9|5", "lower-above-upper 4 Lower"],
  ])("a bad line is set aside with its place: %j", (text, expected) => {
    const sheet = readLivesSheet(cellsOf(text));
    expect(codes(text)).toEqual([expected]);
    expect(sheet.lives).toEqual([]);
    expect(sheet.setAside.map(({ line, problems }) => [line, problems.length])).toEqual([[4, 1]]);
  });

  test("good lines stay when others are bad, and every line is in one of the two lists", () => {
    const sheet = readLivesSheet(cellsOf("Age|Ended\n10|failed\n?|failed\n30|good\n40|maybe"));
    expect(sheet.lives.map(({ line }) => line)).toEqual([4, 6]);
    expect(sheet.setAside.map(({ line }) => line)).toEqual([5, 7]);
  });

  test("without an age, or with ages in two units, no line is read and the header says why", () => {
    expect(codes("Lot|Ended\nL1|failed")).toEqual(["no-age-column 3 null"]);
    expect(codes("Lower (h)|Upper (d)\n1|2")).toEqual(["units-differ 3 null"]);
    expect(readLivesSheet(cellsOf("Lower (h)|Upper (d)\n1|2")).setAside).toHaveLength(1);
  });

  test("a second column of the same meaning is said and kept as a covariate", () => {
    const sheet = readLivesSheet(cellsOf("Age|Hours|Ended\n10|11|failed"));
    expect(sheet.problems.map(({ code, column }) => [code, column])).toEqual([["column-twice", "Hours"]]);
    expect(sheet.lives[0]).toMatchObject({ lower: 10, covariates: { Hours: "11" } });
  });

  test("a problem is said with its place, what is wrong, and what to do", () => {
    const [first] = readLivesSheet(cellsOf("Age (h)|Ended\n62x|failed")).problems;
    if (first === undefined) throw new Error("no problem");
    expect(sayLivesSheetProblem(first)).toBe(
      "fans.csv, line 4, column Age (h): '62x' is not a number of h. The line is set aside; repair it and read the sheet again.",
    );
  });
});
