import { describe, expect, test } from "vitest";
import { between, hatchPath } from "../../../web/charts/kit/paths.ts";
import { blockBox, overlaps, placeBlock } from "../../../web/charts/kit/placement.ts";
import { evenTicks, hourTicks, logTicks } from "../../../web/charts/kit/ticks.ts";
import { survivalLayout } from "../../../web/charts/survivalLayout.ts";
import { itemLifeFixture } from "../../support/chartFixtures.ts";
import { chartRowsFor } from "./rows.ts";

describe("ticks a person would choose", () => {
  test("hours by 50, 100, 250, 500, 1,000", () => {
    expect(hourTicks(320, 8)).toEqual([0, 50, 100, 150, 200, 250, 300]);
    expect(hourTicks(600, 6)).toEqual([0, 100, 200, 300, 400, 500, 600]);
    expect(hourTicks(1100, 6)).toEqual([0, 250, 500, 750, 1000]);
    expect(hourTicks(2600, 6)).toEqual([0, 500, 1000, 1500, 2000, 2500]);
  });

  test("rates by 1, 2, 5 and their tenths", () => {
    expect(evenTicks(1.5, 8)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1, 1.2, 1.4]);
    expect(evenTicks(0, 5)).toEqual([0]);
  });

  test("a logarithmic axis by 1, 2, 5, by whole powers where it spans many, finer where it spans little", () => {
    expect(logTicks(5, 1000)).toEqual([5, 10, 20, 50, 100, 200, 500, 1000]);
    expect(logTicks(1, 100000)).toEqual([1, 10, 100, 1000, 10000, 100000]);
    expect(logTicks(90, 600)).toEqual([100, 150, 200, 300, 400, 500]);
  });
});

describe("placing labels", () => {
  const text = { lines: ["half failed by", "410 h"], size: 12, weight: "regular" as const };
  const bounds = { x: 0, y: 0, width: 300, height: 200 };

  test("takes the first place that covers nothing", () => {
    const first = { x: 20, y: 40, anchor: "start" as const };
    const second = { x: 150, y: 40, anchor: "start" as const };
    const taken = blockBox({ ...text, ...first });
    expect(placeBlock(text, [first, second], { labels: [taken], drawn: [], bounds })).toMatchObject(second);
    expect(placeBlock(text, [first, second], { labels: [], drawn: [], bounds })).toMatchObject(first);
  });

  test("never covers another label nor leaves the picture: rather no label", () => {
    const outside = { x: 280, y: 40, anchor: "start" as const };
    expect(placeBlock(text, [outside], { labels: [], drawn: [], bounds })).toBeNull();
  });

  test("boxes that touch at an edge do not overlap", () => {
    expect(overlaps({ x: 0, y: 0, width: 10, height: 10 }, { x: 10, y: 0, width: 10, height: 10 })).toBe(false);
    expect(overlaps({ x: 0, y: 0, width: 10, height: 10 }, { x: 9, y: 9, width: 10, height: 10 })).toBe(true);
  });
});

describe("paths", () => {
  test("a line is cut exactly at the edges asked for", () => {
    expect(
      between(
        [
          [0, 0],
          [10, 10],
          [20, 20],
        ],
        5,
        15,
      ),
    ).toEqual([
      [5, 5],
      [10, 10],
      [15, 15],
    ]);
    expect(
      between(
        [
          [0, 0],
          [10, 10],
        ],
        12,
        15,
      ),
    ).toEqual([]);
  });

  test("hatching stays inside its box", () => {
    const numbers = [...hatchPath({ x: 10, y: 20, width: 30, height: 8 }, 5).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)];
    expect(numbers.length).toBeGreaterThan(4);
    for (const [, x, y] of numbers) {
      expect(Number(x)).toBeGreaterThanOrEqual(10);
      expect(Number(x)).toBeLessThanOrEqual(40);
      expect(Number(y)).toBeGreaterThanOrEqual(20);
      expect(Number(y)).toBeLessThanOrEqual(28);
    }
  });
});

describe("layout", () => {
  test("gives the overlay the same scale, and back: px to hours", () => {
    const layout = survivalLayout(itemLifeFixture(), { width: 800, finding: "One in ten has failed by 185 h." });
    expect(layout.x.invert(layout.x(185))).toBeCloseTo(185, 9);
    expect(layout.y(0)).toBe(layout.plot.bottom);
    expect(layout.y(1)).toBe(layout.plot.top);
  });
});

describe("tables of what is drawn", () => {
  test.each(chartRowsFor)("%s has a cell for every column in every row", (_, table) => {
    expect(table.rows.length).toBeGreaterThan(0);
    for (const row of table.rows) expect(row.length).toBe(table.columns.length);
    for (const cell of table.rows.flat()) expect(typeof cell === "number" ? Number.isFinite(cell) : true).toBe(true);
  });
});
