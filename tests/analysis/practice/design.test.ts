// Properties that define the spline; small designs by hand.
import { describe, expect, test } from "vitest";
import { designMatrix } from "../../../analysis/practice/design/designMatrix.ts";
import { naturalSpline, splineKnots } from "../../../analysis/practice/design/naturalSpline.ts";
import { planDesign, type Variable } from "../../../analysis/practice/design/planDesign.ts";

const variables: readonly Variable[] = [
  { name: "torque", kind: "number", values: [3000, 3200, 3100, 3400] },
  { name: "crew", kind: "factor", values: ["night", "day", "day", "relief"] },
];

describe("natural spline", () => {
  const knots = [1, 3, 4, 8];

  test("it is straight beyond the outer knots, and smooth to the second derivative at each", () => {
    const second = (x: number, column: number, h = 1e-3) =>
      (naturalSpline(x + h, knots)[column]! -
        2 * naturalSpline(x, knots)[column]! +
        naturalSpline(x - h, knots)[column]!) /
      h ** 2;
    for (const column of [1, 2]) {
      for (const x of [-5, 0.5, 9, 20]) expect(second(x, column)).toBeCloseTo(0, 4);
      expect(Math.abs(second(3.5, column))).toBeGreaterThan(0.01);
      for (const knot of knots) expect(second(knot - 2e-3, column)).toBeCloseTo(second(knot + 2e-3, column), 1);
    }
  });

  test("one fewer column than knots, the first the variable itself; its shape does not depend on the unit", () => {
    expect(naturalSpline(2.5, knots)).toHaveLength(3);
    expect(naturalSpline(2.5, knots)[0]).toBe(2.5);
    const scaled = naturalSpline(
      25,
      knots.map((knot) => 10 * knot),
    );
    naturalSpline(2.5, knots).forEach((value, j) => {
      expect(scaled[j]! / 10).toBeCloseTo(value, 12);
    });
  });

  test("knots lie at the usual fractions; too few different values are refused", () => {
    expect(
      splineKnots(
        "torque",
        Array.from({ length: 101 }, (_, i) => i),
        4,
      ),
    ).toEqual([5, 35, 65, 95]);
    expect(
      splineKnots(
        "torque",
        Array.from({ length: 101 }, (_, i) => 100 - i),
        3,
      ),
    ).toEqual([10, 50, 90]);
    expect(() => splineKnots("torque", [1, 1, 1, 2], 4)).toThrow(/knots of torque/);
    expect(() => splineKnots("torque", [1, 2, 3], 7)).toThrow(/3, 4 or 5/);
  });
});

describe("design matrix", () => {
  test("numbers, a factor against its reference, and their products, by name and term", () => {
    const plan = planDesign(variables, [
      { kind: "number", variable: "torque" },
      { kind: "factor", variable: "crew", reference: "day" },
      {
        kind: "interaction",
        of: [
          { kind: "factor", variable: "crew", reference: "day" },
          { kind: "number", variable: "torque" },
        ],
      },
    ]);
    const design = designMatrix(plan, variables, 4);
    expect(design.names).toEqual([
      "torque",
      "crew: night",
      "crew: relief",
      "crew: night x torque",
      "crew: relief x torque",
    ]);
    expect(design.terms).toEqual([
      { name: "torque", columns: [0] },
      { name: "crew", columns: [1, 2] },
      { name: "crew x torque", columns: [3, 4] },
    ]);
    expect([...design.values]).toEqual([
      ...[3000, 1, 0, 3000, 0],
      ...[3200, 0, 0, 0, 0],
      ...[3100, 0, 0, 0, 0],
      ...[3400, 0, 1, 0, 3400],
    ]);
  });

  test("new rows are written by the old plan: same levels, same knots", () => {
    const plan = planDesign(variables, [
      { kind: "spline", variable: "torque", knots: 3 },
      { kind: "factor", variable: "crew" },
    ]);
    const fresh: readonly Variable[] = [
      { name: "torque", kind: "number", values: [3200] },
      { name: "crew", kind: "factor", values: ["day"] },
    ];
    const [old, next] = [designMatrix(plan, variables, 4), designMatrix(plan, fresh, 1)];
    expect(next.names).toEqual(old.names);
    const k = old.names.length;
    expect([...next.values]).toEqual([...old.values.subarray(k, 2 * k)]);
    const strange: readonly Variable[] = [fresh[0]!, { name: "crew", kind: "factor", values: ["weekend"] }];
    expect(() => designMatrix(plan, strange, 1)).toThrow(/weekend/);
  });

  test.each([
    ["a variable that is not there", [{ kind: "number", variable: "hardness" }], /hardness/],
    ["a factor taken as a number", [{ kind: "number", variable: "crew" }], /crew/],
    ["a reference that never occurs", [{ kind: "factor", variable: "crew", reference: "weekend" }], /weekend/],
    ["knots out of order", [{ kind: "spline", variable: "torque", knots: [3200, 3100, 3300] }], /ascending/],
  ] as const)("%s is refused by name", (_, terms, message) => {
    expect(() => planDesign(variables, terms)).toThrow(message);
  });

  test("missing numbers and lists of the wrong length are refused by row", () => {
    const plan = planDesign(variables, [{ kind: "number", variable: "torque" }]);
    const holes: readonly Variable[] = [{ name: "torque", kind: "number", values: [3000, Number.NaN, 3100, 3400] }];
    expect(() => designMatrix(plan, holes, 4)).toThrow(/torque, row 2/);
    expect(() => designMatrix(plan, variables, 5)).toThrow(/values of torque/);
  });
});
