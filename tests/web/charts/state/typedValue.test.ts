import { expect, test } from "vitest";
import type { FieldDescriptor } from "../../../../analysis/index.ts";
import { typedRow, typedValue } from "../../../../web/state/typedValue.ts";

const field = (part: Partial<FieldDescriptor>): FieldDescriptor => ({
  name: "field",
  type: "number",
  title: "Field",
  ...part,
});

test("empty is null, and wrong only where the field is needed", () => {
  expect(typedValue(field({}), " ")).toEqual({ value: null });
  expect(typedValue(field({ required: true }), null)).toEqual({ wrong: "This is needed." });
});

test("a number is read with either decimal sign; what is none is told, not turned into zero", () => {
  expect(typedValue(field({}), "62,5")).toEqual({ value: 62.5 });
  expect(typedValue(field({}), "62.5")).toEqual({ value: 62.5 });
  expect(typedValue(field({}), "good tight")).toEqual({ wrong: "“good tight” is not a number." });
  expect(typedValue(field({ type: "integer" }), "2.5")).toEqual({ wrong: "A whole number is needed." });
  expect(typedValue(field({ minimum: 0 }), "-1")).toEqual({ wrong: "It cannot be below 0." });
});

// 1 ft-lbf is 1.3558179483314004 N·m (international foot and pound-force, NIST SP 811, appendix B).
test("a number may bring its own unit, which is turned into the field's", () => {
  const torque = field({ unit: "N·m" });
  const read = typedValue(torque, "2500 ft-lbf");
  expect(read).toMatchObject({ turned: true });
  expect("value" in read ? read.value : null).toBeCloseTo(2500 * 1.3558179483314003, 9);
  expect(typedValue(torque, "2500 N·m")).toEqual({ value: 2500 });
  expect(typedValue(torque, "60 h")).toEqual({ wrong: "“h” is no unit of this; it is kept in N·m." });
});

test("a list is cut at semicolons", () => {
  expect(typedValue(field({ type: "array" }), "J1; J2;")).toEqual({ value: ["J1", "J2"] });
});

test("a row sends only what was touched, and says what is wrong by field", () => {
  const fields = [
    field({ name: "run", type: "string", required: true }),
    field({ name: "hours" }),
    field({ name: "mud" }),
  ];
  expect(typedRow(fields, { run: "R1", hours: "about 60" })).toEqual({
    values: { run: "R1" },
    wrong: { hours: "“about 60” is not a number." },
  });
  expect(typedRow(fields, {}).wrong).toEqual({ run: "This is needed." });
});
