import { expect, test } from "vitest";
import type { LifeHistory } from "../../../analysis/index.ts";
import { binLabel, survivorsOf } from "../../../web/charts/survivors.ts";
import { itemLifeFixture } from "../../support/chartFixtures.ts";

const scaled = (px: number) => Object.assign((age: number) => px * age, { invert: (at: number) => at / px });
const right = (histories: readonly LifeHistory[]) => histories.filter(({ kind }) => kind === "right");

test("few survivors keep a mark each", () => {
  const { histories } = itemLifeFixture({ lives: 12 });
  const { single, bins } = survivorsOf(histories, scaled(1));
  expect(single).toEqual(right(histories));
  expect(bins).toEqual([]);
});

test("many are counted: every survivor in exactly one tick, the tallest tick the fullest, and its words say how many", () => {
  const { histories } = itemLifeFixture({ lives: 800 });
  const { single, bins, tallest } = survivorsOf(histories, scaled(1));
  expect(single).toEqual([]);
  const counted = bins.flatMap(({ lives }) => lives.map(({ lifeId }) => lifeId));
  expect([...counted].sort()).toEqual(
    right(histories)
      .map(({ lifeId }) => lifeId)
      .sort(),
  );
  expect(Math.max(...bins.map(({ lives }) => lives.length))).toBe(tallest);
  for (const bin of bins) {
    expect(bin.height).toBeCloseTo(bin.lives.length / tallest, 12);
    expect(binLabel(bin)).toContain(`${bin.lives.length} still good when last seen at `);
  }
});

test("many survivors far apart keep a mark each", () => {
  const { histories } = itemLifeFixture({ lives: 60 });
  const [first] = right(histories);
  const spread = Array.from({ length: 40 }, (_, index): LifeHistory[] =>
    first === undefined ? [] : [{ ...first, lifeId: `life ${index}`, lower: 20 * index }],
  ).flat();
  expect(survivorsOf(spread, scaled(1)).single).toHaveLength(40);
});
