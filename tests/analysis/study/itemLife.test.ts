// "Item life" on small shops: counts that add up, scope, stated age, and words where there is no number.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import type { Records } from "../../../analysis/records/descriptor.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { linkedHistories } from "../../../analysis/study/linkedHistories.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import { shopData } from "../../../analysis/study/shopData.ts";
import type { ItemLifeResult, Scope, StudyDefinition } from "../../../analysis/study/types.ts";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { smallShop } from "../../support/smallShop.ts";
import { context, handShop } from "./handShop.ts";

function itemLife(scope: Partial<Scope>, records = handShop, more: Partial<StudyDefinition> = {}): ItemLifeResult {
  const result = runStudy({ ...defaultStudy("item life", scope), ...more }, records, context);
  if (result.kind !== "item life") throw new Error(result.kind);
  return result;
}
const placesOf = ({ counts }: ItemLifeResult) => [counts.lives, counts.noInformation, counts.excluded];

describe("every restoration in scope is counted once", () => {
  test.each([
    // R1, R2, R3, R4 renew the seal; after R2 nobody looked.
    ["main seal", "leak", [4, 0, 0], { failures: 1, exact: 1, right: 3 }],
    ["main seal", "extrusion", [3, 1, 0], { failures: 1, interval: 1, right: 2 }],
    // R2 leaves J1 as it is.
    ["J1", "back-off", [3, 0, 0], { failures: 1, left: 1, right: 2 }],
    ["pin", "wear", [0, 1, 0], { failures: 0 }],
  ] as const)("%s, %s", (item, mode, places, counts) => {
    const result = itemLife({ item, mode });
    expect(placesOf(result)).toEqual(places);
    expect(result.counts).toMatchObject(counts);
    expect(result.histories).toHaveLength(places[0]);
    expect(result.noInformation.reduce((sum, { count }) => sum + count, 0)).toBe(places[1]);
  });

  test("by size, serial, and dates of the restoration", () => {
    expect(placesOf(itemLife({ item: "main seal", mode: "extrusion", sizeIn: 4.75 }))).toEqual([1, 1, 0]);
    expect(placesOf(itemLife({ item: "main seal", mode: "extrusion", serial: "T2" }))).toEqual([2, 0, 0]);
    expect(placesOf(itemLife({ item: "main seal", mode: "extrusion", from: "2024-03-01" }))).toEqual([1, 1, 0]);
    expect(placesOf(itemLife({ item: "main seal", mode: "extrusion", to: "2024-02-29" }))).toEqual([2, 0, 0]);
  });

  test("a customer's lives are those that began with it", () => {
    expect(itemLife({ item: "main seal", mode: "leak", customer: "A" }).counts.lives).toBe(3);
    expect(itemLife({ item: "main seal", mode: "leak", customer: "B" }).counts.lives).toBe(1);
  });

  // T1's seal after R2 ran for A alone.
  test("a customer's restorations without information are its own too", () => {
    expect(placesOf(itemLife({ item: "main seal", mode: "extrusion", customer: "B" }))).toEqual([1, 0, 0]);
  });

  test("the mode with most failures is taken where none is named", () => {
    expect(itemLife({ item: "J1" })).toMatchObject({ item: "J1", mode: "back-off" });
    expect(() => itemLife({ item: "no such item" })).toThrow(AnalysisError);
  });
});

describe("a mode that leads to another", () => {
  test("is fitted with it, and its failures on clean items are told apart", () => {
    const { linked, nonparametric } = itemLife({ item: "main seal", mode: "extrusion" });
    expect(linked).toMatchObject({ defect: "extrusion", failure: "leak", histories: 4, failures: 1, withoutDefect: 0 });
    expect(nonparametric.method).toBe("none");
  });

  // The seal comes with 300 h, nobody looked: its extrusion is excluded, its leak enters at 300 h. That the leak had not
  // come by 300 h is known; that the extrusion had not is not.
  test("an item that entered in mid-life unseen is not taken as sound at its entry", () => {
    const records: Records = {
      ...handShop,
      fitted_items: [
        { redress: "R1", item: "main seal", renewed: false, age_at_fitting_h: 300 },
        { redress: "R1", item: "J1", renewed: true },
      ],
      runs: (handShop.runs ?? []).filter(({ run }) => run === "b"),
      redresses: (handShop.redresses ?? []).filter(({ redress }) => redress === "R1"),
    };
    const data = shopData(records, defaultStudy("item life"));
    const of = (mode: string) => data.derived.lives.filter((life) => life.mode === mode);
    expect(of("extrusion")).toHaveLength(0);
    expect(of("leak")).toMatchObject([{ entry: 300, lower: 340 }]);
    const { histories } = linkedHistories(of("extrusion"), of("leak"), data, "shop rate");
    expect(histories.every(({ defect }) => defect.from < 300)).toBe(true);
  });
});

describe("a shop with enough failures", () => {
  const scope = { item: "main seal", mode: "wear" };
  const result = itemLife(scope, smallShop());

  test("estimates have bounds around them at the confidence asked", () => {
    const { b10, median, mean, reliability } = result.readings;
    for (const { value, lower, upper, confidence } of [b10, median, mean, reliability]) {
      expect(confidence).toBe(0.9);
      expect(lower ?? 0).toBeLessThan(value ?? 0);
      expect(upper ?? Number.MAX_VALUE).toBeGreaterThan(value ?? 0);
    }
    const wider = itemLife(scope, smallShop(), { confidence: 0.99 }).readings.median;
    expect(wider.lower ?? 0).toBeLessThan(median.lower ?? 0);
    expect(wider.upper ?? 0).toBeGreaterThan(median.upper ?? 0);
  });

  test("the stated age is the one asked, the survival there that of the fitted law", () => {
    const { fit, readings } = itemLife(scope, smallShop(), { statedAge: 125 });
    expect(readings.statedAge).toBe(125);
    const [shape, scale] = [fit?.shape.value ?? Number.NaN, fit?.scale.value ?? Number.NaN];
    expect(readings.reliability.value).toBeCloseTo(Math.exp(-((125 / scale) ** shape)), 10);
    expect(readings.median.value).toBeCloseTo(scale * Math.log(2) ** (1 / shape), 6);
  });

  test("left open, it is the middle length of a life to ten hours", () => {
    // Sixteen lives: ends 60 90 95 110 120 130 140 150 160 175 180 205 210 240 260 320; the middle is 155, read as 160.
    expect(result.readings.statedAge).toBe(160);
  });

  test("a stated age or a confidence that means nothing is refused", () => {
    for (const more of [{ statedAge: 0 }, { statedAge: -5 }, { confidence: 1 }, { confidence: 0 }])
      expect(() => itemLife(scope, smallShop(), more)).toThrow(/bad-setting/);
  });

  test("the line on the grid goes through the readings and never rises", () => {
    const { age, value, lower, upper } = result.survival ?? { age: [], value: [], lower: [], upper: [] };
    expect(age[0]).toBe(0);
    for (let i = 1; i < age.length; i++) {
      expect(age[i]!).toBeGreaterThan(age[i - 1]!);
      expect(value[i]!).toBeLessThanOrEqual(value[i - 1]!);
      expect(lower[i]!).toBeLessThanOrEqual(value[i]! + 1e-12);
      expect(upper[i]!).toBeGreaterThanOrEqual(value[i]! - 1e-12);
    }
  });

  test("raising the threshold above every finding leaves no failure", () => {
    expect(itemLife(scope, smallShop(), { thresholds: { wear: 5 } }).counts.failures).toBe(0);
    expect(itemLife(scope, smallShop(), { thresholds: { "main seal: wear": 4 } }).counts.failures).toBe(
      result.counts.failures,
    );
  });
});

describe("words instead of numbers", () => {
  /** One tool a life: a leak at this age, or none by it. */
  function shopOf(lives: readonly (readonly [hours: number, failed: boolean])[]): Records {
    const serials = lives.map((_, index) => `S${index + 1}`);
    return {
      tool_items: handShop.tool_items ?? [],
      modes: (handShop.modes ?? []).map((row) => ({ ...row, leads_to: null })),
      tools: serials.map((serial) => ({ serial, tool_type: "axial damper", size_in: 4.75, hours_at_entry: 0 })),
      redresses: serials.map((serial) => ({ redress: `R ${serial}`, serial, done_on: "2024-01-01", reason: "new" })),
      fitted_items: serials.map((serial) => ({ redress: `R ${serial}`, item: "main seal", renewed: true })),
      runs: lives.map(([hours, failed], index) => ({
        ...{ run: `run ${index}`, serial: serials[index]!, out_on: "2024-02-01", in_on: "2024-02-28", hours },
        ...(failed
          ? { pulled_because: "tool failure", item_seen: "main seal", mode_seen: "leak", hour_seen: hours }
          : { pulled_because: "planned" }),
      })),
    };
  }
  const leak = { item: "main seal", mode: "leak" };

  test("no failures: nothing fitted, but so many lives without one bound the fraction still good", () => {
    const { fit, survival, readings, notices, counts } = itemLife(
      leak,
      shopOf([
        [100, false],
        [100, false],
        [100, false],
      ]),
    );
    expect([fit, survival, counts.failures]).toEqual([null, null, 0]);
    expect(readings.median).toMatchObject({ value: null, why: "no failures" });
    // Three lives of 100 h: 0.05^(1/3) = 0.368 at 95 % below (Clopper & Pearson 1934, no failures).
    expect(readings.reliability).toMatchObject({ value: null, method: "success run" });
    expect(readings.reliability.lower).toBeCloseTo(0.3684, 4);
    expect(notices.map(({ code }) => code)).toContain("no-failures");
  });

  test.each([
    [
      "one failure, the longest of all",
      [
        [140, true],
        [50, false],
        [80, false],
      ],
    ],
    [
      "failures tied at one age, none followed longer",
      [
        [120, true],
        [120, true],
        [120, true],
        [60, false],
      ],
    ],
  ] as const)("%s: no shape, said", (_name, lives) => {
    const result = itemLife(leak, shopOf(lives));
    expect(result.fit).toBeNull();
    expect(result.readings.b10).toMatchObject({ value: null, lower: null, upper: null, why: "no maximum" });
    expect(result.notices.map(({ code }) => code)).toContain("no-maximum");
    expect(result.nonparametric.steps.length).toBeGreaterThan(0);
    expect(sayAnswer(result)).toMatch(/cannot be told yet/);
  });

  test("one failure with longer survivors: a number with wide bounds, and said that it rests on one", () => {
    const result = itemLife(
      leak,
      shopOf([
        [60, true],
        [100, false],
        [150, false],
        [200, false],
      ]),
    );
    expect(result.counts.failures).toBe(1);
    expect(result.notices.find(({ code }) => code === "few-failures")?.facts.failures).toBe(1);
    expect(sayAnswer(result)).toMatch(/^[A-Z].*\.$/);
  });

  test("nothing known at all: a sentence that says what would help", () => {
    expect(sayAnswer(itemLife({ item: "pin", mode: "wear" }))).toMatch(/Nothing is known yet/);
  });
});
