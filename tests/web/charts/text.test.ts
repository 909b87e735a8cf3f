import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { textWidth, wrapText } from "../../../web/charts/text/measure.ts";
import { boundsText, estimateText, threeDigits } from "../../../web/charts/text/numbers.ts";
import { advancesOf, advanceWidthsModule } from "./makeAdvanceWidths.ts";

describe("advance widths", () => {
  test("the shipped table is what the shipped font says", () => {
    const shipped = readFileSync(new URL("../../../web/charts/text/advanceWidths.ts", import.meta.url), "utf8");
    // The formatter may break lines otherwise than the generator; the words are the same.
    const words = (text: string): string => text.replaceAll(/\s+/g, " ");
    expect(words(shipped)).toBe(words(advanceWidthsModule()));
  });

  test("figures are all equally wide, so numbers stand in columns", () => {
    const advances = advancesOf("SourceSans3-Regular.ttf");
    expect(new Set([..."0123456789"].map((digit) => advances[digit])).size).toBe(1);
  });

  test("width is the sum of the advances: 'il' at 12 px", () => {
    const advances = advancesOf("SourceSans3-Regular.ttf");
    expect(textWidth("il", 12)).toBeCloseTo((((advances.i ?? 0) + (advances.l ?? 0)) * 12) / 1000, 10);
  });

  test("has Greek, minus, at most, and arrows", () => {
    const advances = advancesOf("SourceSans3-Semibold.ttf");
    for (const sign of "βηθ−≤→°·") expect(advances[sign]).toBeGreaterThan(0);
  });
});

describe("wrapText", () => {
  const text = "One in ten main seals has extruded by 185 h: 24 failures among 120 followed.";

  test("keeps every word, in order, and no line is too wide", () => {
    const lines = wrapText(text, 160, 15, "semibold");
    expect(lines.join(" ")).toBe(text);
    for (const line of lines) expect(textWidth(line, 15, "semibold")).toBeLessThanOrEqual(160);
  });

  test("keeps a number together with its unit and per cent sign", () => {
    for (let width = 60; width < 400; width += 7) {
      const lines = wrapText("one in ten by 119 h (69.3–154 h, 90 %), half by 530 h (393–936, 90 %)", width, 12);
      expect(lines.filter((line) => /^(%|h\b)/.test(line))).toEqual([]);
    }
  });

  test("breaks a word that is wider than a line", () => {
    expect(wrapText("AD650-017-AD650-018", 60, 12).length).toBeGreaterThan(1);
  });
});

describe("numbers on charts", () => {
  test("three significant digits, thousands set apart", () => {
    expect([0, 1238, 184.81, 0.5812, 0.00587].map(threeDigits)).toEqual(["0", "1,240", "185", "0.581", "0.00587"]);
  });

  test("a missing bound is said in words", () => {
    expect(boundsText({ lower: 149, upper: null })).toBe("149 or more");
    expect(boundsText({ lower: null, upper: 229 })).toBe("at most 229");
    expect(boundsText({ lower: null, upper: null })).toBe("no bounds");
  });

  test("an estimate stands with its bounds and their confidence", () => {
    expect(
      estimateText({
        value: 409.6,
        lower: 365.2,
        upper: 454.9,
        confidence: 0.9,
        method: "likelihood ratio",
        unit: "h",
      }),
    ).toBe("410 h (365–455, 90 %)");
    expect(
      estimateText({
        value: null,
        lower: null,
        upper: null,
        confidence: 0.9,
        method: "none",
        unit: "h",
        why: "not reached",
      }),
    ).toMatch(/^not reached/);
    expect(
      estimateText({
        value: 0.81,
        lower: 0.735,
        upper: 0.865,
        confidence: 0.9,
        method: "likelihood ratio",
        unit: "fraction",
      }),
    ).toBe("81 % (73.5–86.5, 90 %)");
  });
});
