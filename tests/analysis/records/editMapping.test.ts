// A mapping changed column by column: laws of the change, on a small mapping worked by hand.
import { expect, test } from "vitest";
import { hasOtherUses, targetsOf, withTarget } from "../../../analysis/records/editMapping.ts";
import type { Mapping } from "../../../analysis/records/mapping.ts";
import { unitsLike } from "../../../analysis/records/units.ts";

const mapping: Mapping = {
  name: "runs",
  version: 1,
  fingerprint: "tool|out|hrs|bht",
  format: { encoding: "utf-8", delimiter: ",", decimal: ".", skipLines: 0, comment: null, dateOrder: {} },
  tables: [
    {
      table: "runs",
      columns: {
        run: { join: ["Tool", "Out"], separator: " " },
        serial: { from: "Tool" },
        out_on: { from: "Out" },
        hours: { from: "Hrs", unit: "min" },
      },
    },
  ],
  addRows: [],
};
const hours = { table: "runs", field: "hours", unit: "min" } as const;

test("what a column is read into as it stands is told apart from what it is only a part of", () => {
  expect(targetsOf(mapping, "Hrs")).toEqual([hours]);
  expect(targetsOf(mapping, "Tool")).toEqual([{ table: "runs", field: "serial", unit: null }]);
  expect(hasOtherUses(mapping, "Tool")).toBe(true);
  expect(hasOtherUses(mapping, "Hrs")).toBe(false);
  expect(targetsOf(mapping, "BHT")).toEqual([]);
});

test("a column that was not read is read into a field, with its vocabulary and a unit only where it differs", () => {
  const heat = { table: "runs", field: "max_temperature_C", unit: "degF" } as const;
  const edited = withTarget(mapping, "BHT", null, heat);
  expect(edited.tables[0]?.columns.max_temperature_C).toEqual({ from: "BHT", unit: "degF" });
  expect(targetsOf(edited, "BHT")).toEqual([heat]);
  const reason = withTarget(mapping, "Why", null, { table: "runs", field: "pulled_because", unit: null });
  expect(reason.tables[0]?.columns.pulled_because).toEqual({ from: "Why", words: "pulled because" });
  const own = withTarget(mapping, "Hrs", hours, { ...hours, unit: "h" });
  expect(own.tables[0]?.columns.hours).toEqual({ from: "Hrs" });
});

test("a field is read from one column: the one chosen last", () => {
  const edited = withTarget(mapping, "Circ", null, { ...hours, unit: "h" });
  expect(targetsOf(edited, "Circ")).toEqual([{ ...hours, unit: "h" }]);
  expect(targetsOf(edited, "Hrs")).toEqual([]);
});

test("not read takes away the plain use and leaves keys and other parts as they are", () => {
  const edited = withTarget(mapping, "Tool", { table: "runs", field: "serial", unit: null }, null);
  expect(edited.tables[0]?.columns).toEqual({
    run: { join: ["Tool", "Out"], separator: " " },
    out_on: { from: "Out" },
    hours: { from: "Hrs", unit: "min" },
  });
});

test("there and back again is the mapping that was; nothing is changed in place", () => {
  const before = structuredClone(mapping);
  const away = withTarget(mapping, "Hrs", hours, null);
  expect(withTarget(away, "Hrs", null, hours)).toEqual(mapping);
  expect(mapping).toEqual(before);
});

test("a field of a table that the sheet did not give adds the table; a table that reads nothing any more goes", () => {
  const serial = { table: "tools", field: "serial", unit: null } as const;
  const edited = withTarget(mapping, "Asset", null, serial);
  expect(edited.tables.map(({ table }) => table)).toEqual(["runs", "tools"]);
  expect(withTarget(edited, "Asset", serial, null).tables).toEqual(mapping.tables);
});

test("units on offer measure the same thing", () => {
  expect(unitsLike("degC")).toEqual(expect.arrayContaining(["°C", "°F"]));
  expect(unitsLike("degC")).not.toContain("h");
  expect(unitsLike("furlong")).toEqual([]);
});
