import { describe, expect, test } from "vitest";
import { overlaps } from "../../../web/charts/kit/placement.ts";
import { darkTheme, lightTheme } from "../../../web/charts/theme.ts";
import { toSvgText } from "../../../web/charts/toSvgText.ts";
import { cases } from "./cases.tsx";
import { shapesOf, sizeOf, textsOf } from "./svg.ts";

const widths = [320, 400, 480, 640, 900, 1200, 1400];

describe.each(cases.map((one) => [one.name, one] as const))("%s", (name, { draw }) => {
  test.each(widths)(
    "at %i px no text covers another, none is cut off, none is under 11 px, every mark lies on the sheet",
    (width) => {
      const svg = toSvgText(draw(lightTheme, width));
      const { height } = sizeOf(svg);
      const texts = textsOf(svg);
      expect(texts.length).toBeGreaterThan(4);
      const cut = texts.filter(
        ({ box }) => box.x < 0 || box.y < 0 || box.x + box.width > width || box.y + box.height > height,
      );
      expect(cut.map(({ text }) => text)).toEqual([]);
      const covered = texts.flatMap((one, index) =>
        texts
          .slice(index + 1)
          .flatMap((other) => (overlaps(one.box, other.box) ? [`${one.text} | ${other.text}`] : [])),
      );
      expect(covered).toEqual([]);
      expect(texts.filter(({ size }) => size < 11)).toEqual([]);
      const outside = shapesOf(svg).filter(
        (box) =>
          box.x < -0.01 || box.y < -0.01 || box.x + box.width > width + 0.01 || box.y + box.height > height + 0.01,
      );
      expect(outside).toEqual([]);
    },
  );

  test("draws only plain numbers: no NaN, no Infinity, no undefined", () => {
    expect(toSvgText(draw(lightTheme, 640))).not.toMatch(/NaN|Infinity|undefined|\[object/);
  });

  test("uses nothing that PNG or PDF would lose: no class, style, variable, foreign object or transform", () => {
    expect(toSvgText(draw(darkTheme, 640))).not.toMatch(/class=|style=|var\(|foreignObject|transform=|url\(/);
  });

  test("every mark says what it is, and the keyboard reaches the marks", () => {
    const svg = toSvgText(draw(lightTheme, 640));
    const marks = [...svg.matchAll(/<g [^>]*data-mark="mark"[^>]*>/g)].map(([tag]) => tag);
    const empty = {
      "probability-none": "No failures yet,",
      "probability-bound": "No failures yet,",
      "probability-linked": "decides when one looks",
    };
    const says = Object.entries(empty).find(([known]) => known === name)?.[1];
    if (says !== undefined) {
      expect(marks).toEqual([]);
      expect(svg).toContain(says);
      return;
    }
    expect(marks.length).toBeGreaterThan(0);
    expect(marks.filter((tag) => !/aria-label="[^"]{6,}"/.test(tag))).toEqual([]);
    expect(marks.some((tag) => tag.includes('tabindex="0"'))).toBe(true);
    expect(svg).toMatch(/<title id="[^"]+">[^<]+<\/title><desc id="[^"]+">[^<]+<\/desc>/);
  });
});

test("a mode without observed steps is drawn without an observed line, and beyond the longest life says so", () => {
  const one = cases.find((candidate) => candidate.name === "survival-linked");
  const svg = one ? toSvgText(one.draw(lightTheme, 900)) : "";
  expect(svg).toContain(">beyond experience<");
  expect(svg).toContain(">fitted<");
  expect(svg).not.toContain("as observed");
});
