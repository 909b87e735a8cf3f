import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { decideDateOrders, fingerprintOf, normalisePhrase, parseDate, parseNumber } from "../../../analysis/index.ts";
import { caughtBy, safePattern } from "../../../analysis/records/safePattern.ts";

describe("parseNumber", () => {
  test.each([
    ["62.5 h", ".", 62.5, "h"],
    ["62,5", ",", 62.5, ""],
    ["62,5", ".", 62.5, ""],
    ["1,234", ".", 1234, ""],
    ["1.234", ",", 1234, ""],
    ["1,234", ",", 1.234, ""],
    ["1.234,5", ",", 1234.5, ""],
    ["1,234.5", ".", 1234.5, ""],
    ["12 500", ".", 12500, ""],
    ["1'234.5", ".", 1234.5, ""],
    ["850 ft-lbf", ".", 850, "ft-lbf"],
    ["-3.5e2", ".", -350, ""],
    ["3 d", ".", 3, "d"],
    [".5", ".", 0.5, ""],
    ["6-1/2", ".", 6.5, ""],
    ['4 3/4"', ".", 4.75, '"'],
    ["9½ in", ".", 9.5, "in"],
    ["0,250", ".", 0.25, ""],
  ] as const)("%s with decimal %s is %d and leaves %s", (text, decimal, value, rest) => {
    expect(parseNumber(text, decimal)).toEqual({ value, rest });
  });

  test.each(["good tight", "", "<5", "1.2.3", "12,34,5", "--"])("%s is no number", (text) => {
    expect(parseNumber(text, ".")).toBeNull();
  });

  test("any finite decimal written with either sign is read back", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -9_999_999, max: 9_999_999 }),
        fc.constantFrom(".", ","),
        (thousandths, decimal) => {
          const value = thousandths / 1000;
          const text = value.toFixed(4).replace(".", decimal);
          expect(parseNumber(text, decimal as "." | ",")?.value).toBe(value === 0 ? 0 : value);
        },
      ),
    );
  });
});

describe("parseDate", () => {
  test.each([
    ["2025-03-05", "dmy", "2025-03-05"],
    ["2025-03-05T14:30:00Z", "dmy", "2025-03-05"],
    ["05.03.2025", "dmy", "2025-03-05"],
    ["05/03/2025", "mdy", "2025-05-03"],
    ["5/3/25 14:30", "dmy", "2025-03-05"],
    ["25-03-05", "ymd", "2025-03-05"],
    ["5-Mar-2025", "mdy", "2025-03-05"],
    ["March 5, 2025", "dmy", "2025-03-05"],
    ["5. Mai 2025", "dmy", "2025-05-05"],
    ["20250305", "dmy", "2025-03-05"],
    ["29.02.2024", "dmy", "2024-02-29"],
    ["29.02.2025", "dmy", "impossible"],
    ["31/04/2025", "dmy", "impossible"],
    ["03/25/2025", "dmy", "impossible"],
    ["soon", "dmy", null],
    ["12.5", "dmy", null],
    ["1850", "dmy", null],
  ] as const)("%s as %s", (text, order, date) => {
    expect(parseDate(text, order)).toBe(date);
  });
});

describe("decideDateOrders", () => {
  const decide = (...columns: readonly (readonly string[])[]) => {
    const rows = (columns[0] ?? []).map((_, i) => ({ cells: columns.map((column) => column[i] ?? "") }));
    return decideDateOrders(
      columns.map((_, i) => `c${i}`),
      rows,
    ).map(({ order, because }) => [order, because]);
  };
  test("a number of 13 to 31 decides", () => {
    expect(decide(["05/03/2025", "17/03/2025"])).toEqual([["dmy", "cells"]]);
    expect(decide(["05/03/2025", "03/17/2025"])).toEqual([["mdy", "cells"]]);
  });
  test("an undecided column follows the others; with no help day first is assumed", () => {
    expect(decide(["05/03/2025"], ["03/17/2025"])).toEqual([
      ["mdy", "other columns"],
      ["mdy", "cells"],
    ]);
    expect(decide(["05/03/2025", "06/03/2025"])).toEqual([["dmy", "assumed"]]);
  });
  test("ISO dates need no decision, and a column of numbers is none of dates", () => {
    expect(decide(["2025-03-05", ""], ["1850.5", "12"])).toEqual([["ymd", "own order"]]);
  });
});

describe("safePattern", () => {
  test.each([
    "(a+)+b",
    "(a|aa)*b",
    "(\\d+)*",
    "((a?)b?){4}",
    "a*b*c*d*",
    "(?=x)",
    "(a)\\1",
    "(",
    "x".repeat(201),
    "a?".repeat(9),
    "a{1,5000}",
  ])("refuses %s", (pattern) => {
    expect(() => safePattern(pattern)).toThrow(/bad-mapping/);
  });
  test("catches group 1", () => {
    expect(caughtBy(safePattern("^AD(\\d{3})-"), "AD650-014")).toBe("650");
    expect(caughtBy(safePattern("^(AD|BV)(?:[^a-z]|$)"), "BV475-1")).toBe("BV");
    expect(caughtBy(safePattern("^AD(\\d{3})-"), "x".repeat(10_000))).toBeNull();
  });
  test("an accepted pattern answers quickly on a hostile cell", () => {
    const started = performance.now();
    caughtBy(safePattern(".*.*.*(=)"), "x".repeat(120));
    expect(performance.now() - started).toBeLessThan(1000);
  });
});

describe("fingerprintOf", () => {
  test("order, case, spacing and punctuation of headers do not matter; a column more does", () => {
    expect(fingerprintOf(["Serial No.", "Torque"])).toBe(fingerprintOf(["torque ", "SERIAL  no"]));
    expect(fingerprintOf(["Serial", "Torque"])).not.toBe(fingerprintOf(["Serial", "Torque", "Note"]));
    expect(fingerprintOf(["a b", "c"])).not.toBe(fingerprintOf(["a", "b c"]));
  });
  test("phrases are compared without case, hyphens and quotes", () => {
    expect(normalisePhrase("  Back-Off ")).toBe(normalisePhrase("back off"));
  });
});
