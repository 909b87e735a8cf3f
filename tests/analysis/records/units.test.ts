import { describe, expect, test } from "vitest";
import { AnalysisError, convertUnit, unitOf } from "../../../analysis/index.ts";

describe("convertUnit", () => {
  // NIST Special Publication 811 (2008), Appendix B.8, factors as printed there (seven significant digits):
  // foot pound-force to newton metre 1.355818, pound-force inch 0.1129848, psi to kPa 6.894757, foot 0.3048 exactly,
  // inch 25.4 mm exactly, mil 0.0254 mm exactly, bar 0.1 MPa exactly, kilogram-force metre 9.80665 exactly.
  test.each([
    ["ft-lbf", "N·m", 1.355818, 1e-6],
    ["in-lbf", "N·m", 0.1129848, 1e-7],
    ["psi", "MPa", 6.894757e-3, 1e-9],
    ["ft", "m", 0.3048, 1e-15],
    ["in", "mm", 25.4, 1e-13],
    ["thou", "mm", 0.0254, 1e-16],
    ["bar", "MPa", 0.1, 1e-16],
    ["kgf·m", "N·m", 9.80665, 1e-14],
  ] as const)("one %s in %s", (from, to, factor, tolerance) => {
    expect(Math.abs(convertUnit(1, from, to) - factor)).toBeLessThanOrEqual(tolerance);
  });

  // NIST SP 811, B.9: t/°C = (t/°F - 32)/1.8. Fixed points: ice 32 °F, steam 212 °F, and -40 where the scales meet.
  test.each([
    [32, 0],
    [212, 100],
    [-40, -40],
    [350, 176.6666666666667],
  ])("%d °F is %d °C", (fahrenheit, celsius) => {
    expect(convertUnit(fahrenheit, "degF", "°C")).toBeCloseTo(celsius, 12);
  });

  test("back and forth returns the value", () => {
    for (const [a, b] of [
      ["ft-lbf", "N·m"],
      ["°F", "K"],
      ["min", "d"],
      ["ksi", "bar"],
      ["cm", "ft"],
    ] as const) {
      expect(convertUnit(convertUnit(123.4, a, b), b, a)).toBeCloseTo(123.4, 10);
    }
  });

  test("what measures different things, or is unknown, is refused", () => {
    for (const [from, to] of [
      ["ft-lbf", "psi"],
      ["furlong", "m"],
      ["h", "°C"],
    ] as const) {
      expect(() => convertUnit(1, from, to)).toThrow(AnalysisError);
    }
  });
});

test("unitOf knows the spellings of the shop", () => {
  const spellings = {
    "ft-lbs": "ft-lbf",
    "FT LBF": "ft-lbf",
    "lb.ft": "ft-lbf",
    "N*m": "N·m",
    Nm: "N·m",
    "Deg F": "°F",
    hrs: "h",
    '"': "in",
    PSI: "psi",
  };
  for (const [text, unit] of Object.entries(spellings)) expect(unitOf(text), text).toBe(unit);
  expect(unitOf("tight")).toBeNull();
  expect(unitOf("__proto__")).toBeNull();
});
