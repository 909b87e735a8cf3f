import { expect, test } from "vitest";
import { toCsv } from "../../../web/charts/chartTable.ts";

test("commas, quotes and line ends are quoted (RFC 4180); an absent number is an empty cell", () => {
  const table = {
    columns: ["a", "b"],
    rows: [
      ['say "no"', "x,y"],
      ["two\nlines", null],
    ],
  };
  expect(toCsv(table)).toBe('a,b\r\n"say ""no""","x,y"\r\n"two\nlines",\r\n');
});

test("text that a spreadsheet would run as a formula is led by an apostrophe, a negative number is not", () => {
  expect(toCsv({ columns: ["v"], rows: [["=1+1"], ["@SUM(A1)"], [-3.5]] })).toBe("v\r\n'=1+1\r\n'@SUM(A1)\r\n-3.5\r\n");
});
