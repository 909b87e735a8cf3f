// Hours of a life on the clock of its wells' heat.
import { describe, expect, test } from "vitest";
import type { RunMark } from "../../../../analysis/lives/types.ts";
import { heatClock } from "../../../../analysis/study/heat/heatClock.ts";
import { heatRate, wellHeat } from "../../../../analysis/study/heat/wellHeat.ts";

const mark = (run: string, from: RunMark["from"], to: RunMark["to"]) => ({
  row: { table: "runs" as const, key: run },
  from,
  to,
});
const runs = (...list: readonly (readonly [hours: number, celsius: number | null])[]) => ({
  runs: list.map(([hours, celsius], index) => ({
    run: {
      run: `R-${index}`,
      serial: "A",
      out_on: "2024-01-01",
      pulled_because: "planned" as const,
      max_temperature_C: celsius,
    },
    hours,
  })),
});

describe("the clock", () => {
  // Worked value: 60 h at 120, 30 h at 140 and 10 h at 150 degC age as 228.8 h at 120 degC do (Arrhenius, 85 kJ/mol).
  const wells = { referenceC: 120, lowC: 120, highC: 150, writtenShare: 1, runs: [{ celsius: 120, hours: 1 }] };
  const celsiusOf = (key: string) => ({ a: 120, b: 140, c: 150 })[key] ?? null;
  const clock = heatClock(
    [mark("a", 0, 60), mark("b", 60, 90), mark("c", 90, 100)],
    celsiusOf,
    heatRate(wells, 85_000),
    0,
  );

  test("counts a hundred hours as the worked 228.8", () => {
    expect(clock.hoursAt(100)).toBeCloseTo(228.8, 1);
    expect(clock.hoursAt(60)).toBeCloseTo(60, 9);
    expect(clock.hoursAt(90) - clock.hoursAt(60)).toBeCloseTo(30 * 3.52, 0);
  });

  test("runs at the rate of the run that ends there", () => {
    expect(clock.rateAt(60)).toBeCloseTo(1, 9);
    expect(clock.rateAt(61)).toBeCloseTo(3.52, 2);
    expect(clock.rateAt(100)).toBeCloseTo(6.32, 2);
  });

  test("never runs backwards, and counts usual hours after the last run", () => {
    const ages = Array.from({ length: 140 }, (_, age) => clock.hoursAt(age));
    expect(ages.every((hours, age) => age === 0 || hours > ages[age - 1]!)).toBe(true);
    expect(clock.hoursAt(120) - clock.hoursAt(110)).toBeCloseTo(10 * heatRate(wells, 85_000).usual, 9);
  });

  test("without energy every hour is an hour", () => {
    const alike = heatClock([mark("a", 5, 60), mark("b", 60, 90)], celsiusOf, heatRate(wells, 0), 0);
    for (const age of [0, 3, 60, 75, 90, 200]) expect(alike.hoursAt(age)).toBe(age);
  });

  test("an end known as a range is laid where the study settles it", () => {
    const settled = heatClock([mark("b", 0, [20, 40])], celsiusOf, heatRate(wells, 85_000), 0.5);
    expect(settled.hoursAt(30) / 30).toBeCloseTo(3.52, 2);
    expect(settled.rateAt(31)).toBeCloseTo(1, 9);
  });
});

describe("the wells", () => {
  test("the reference is the mean over hours, the ends hold 90 % of them", () => {
    const heat = wellHeat(runs([60, 100], [30, 120], [10, 160], [50, null]));
    expect(heat).toMatchObject({ referenceC: 112, lowC: 100, highC: 160, writtenShare: 100 / 150 });
  });

  test("a run without a temperature counts at the mean rate of the hours with one", () => {
    const heat = wellHeat(runs([60, 100], [40, 140]))!;
    const rate = heatRate(heat, 60_000);
    expect(rate.usual).toBeCloseTo(0.6 * rate.at(100) + 0.4 * rate.at(140), 12);
  });

  test("a temperature that no well has is as good as none: one slip would count its hours a thousandfold", () => {
    const heat = wellHeat(runs([60, 100], [40, 140], [50, 1_210], [20, -273]));
    expect(heat?.runs.map(({ celsius }) => celsius)).toEqual([100, 140]);
    expect(heat?.writtenShare).toBeCloseTo(100 / 170, 12);
  });

  test("no temperature, or one and the same, tells nothing", () => {
    expect(wellHeat(runs([60, null]))).toBeNull();
    expect(wellHeat(runs([60, 120], [30, 120]))).toBeNull();
  });
});
