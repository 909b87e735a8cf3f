// Contrast by WCAG 2.2, "relative luminance" and "contrast ratio" (w3.org/TR/WCAG22): 4.5 for text (1.4.3), 3 for marks (1.4.11).
import { describe, expect, test } from "vitest";
import { darkTheme, lightTheme } from "../../../web/charts/theme.ts";

function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

// WCAG 2.2 states the extremes: black on white is 21 : 1.
test("contrast of black on white is 21", () => expect(contrast("#000000", "#FFFFFF")).toBeCloseTo(21, 10));

describe.each([lightTheme, darkTheme])("$name theme", (theme) => {
  test.each(["ink", "muted", "accent", "slate"] as const)("%s is readable as text on the sheet", (tone) => {
    expect(contrast(theme[tone], theme.sheet)).toBeGreaterThanOrEqual(4.5);
  });

  test("every category is visible as a mark on the sheet", () => {
    for (const colour of theme.categories) expect(contrast(colour, theme.sheet)).toBeGreaterThanOrEqual(3);
  });

  test("steps of the scale grow one way, and each differs from the next", () => {
    const shades = theme.steps.map(luminance);
    const direction = Math.sign((shades[4] ?? 0) - (shades[0] ?? 0));
    for (let index = 1; index < 5; index++) {
      expect(direction * ((shades[index] ?? 0) - (shades[index - 1] ?? 0))).toBeGreaterThan(0);
      expect(contrast(theme.steps[index as 1], theme.steps[(index - 1) as 0])).toBeGreaterThan(1.15);
    }
  });

  test("outlines of the drawing and labels stand out from metal and bore", () => {
    for (const ground of [theme.metal, theme.bore]) expect(contrast(theme.muted, ground)).toBeGreaterThanOrEqual(3);
  });
});
