// Golden sentences of build practice, and the torque figures against their worked values.
import { describe, expect, test } from "vitest";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { sayContrast } from "../../../analysis/wording/sayContrast.ts";
import {
  sayLots,
  sayPracticeComparison,
  sayPracticeFinding,
  sayPracticeGroup,
  saySettling,
} from "../../../analysis/wording/sayPractice.ts";
import { torqueFigures } from "../../../analysis/wording/torqueFigures.ts";
import { buildPracticeFixture } from "../../support/chartFixtures/buildPractice.ts";

const result = buildPracticeFixture();
const few = buildPracticeFixture({ few: true });

describe("sentences", () => {
  test("the answer: what stands out with bounds and counts, how many more, and what nobody can tell", () => {
    expect(sayAnswer(result)).toBe(
      "Joints made up at 0.9 of the design torque (corrected for the compound) instead of 1 last 0.55 times as long (0.36–0.82, bounds allowing for all that was compared) before back-off: 62 failures among 898 lives. It goes with that; whether it is the cause only a trial can tell. 2 more of 38 comparisons stand out. Of cycles on new threads nobody can tell: it went along with the technician.",
    );
  });

  test("the answer where nothing stands out", () => {
    expect(sayAnswer(few)).toBe(
      "No practice shows a difference yet: 2 comparisons over 17 failures among 124 lives. Of cycles on new threads nobody can tell: it went along with the technician.",
    );
  });

  test("each reading of a comparison", () => {
    const said = Object.fromEntries(
      result.comparisons.map((one) => [`${one.practice} ${one.verdict}`, sayPracticeComparison(one)]),
    );
    expect(said["cycles on new threads cannot tell"]).toBe(
      "Joints made up with no make-and-break on new threads instead of 3: cannot tell what it does before galling. Cycles on new threads goes along with the technician: that alone accounts for 91 % of how it varied, everything written together leaves 8 %.",
    );
    expect(said["threadlocker no difference shown yet"]).toBe(
      "Joints made up with medium threadlocker instead of without: no difference before back-off shown yet. They last 1.5 times as long (0.92–2.6, 90 %): 62 failures among 898 lives.",
    );
    expect(said["gap longer life"]).toBe(
      "Main seals with a gap of 0.1 mm (0.0039 in) instead of 0.28 mm (0.011 in) last 3.4 times as long (1.2–unbounded, bounds allowing for all that was compared) before extrusion: 41 failures among 604 lives.",
    );
    expect(said["torque too few failures"]).toBe(
      "Joints made up at 0.9 of the design torque instead of 1: 6 failures by shoulder leak, too few to compare.",
    );
  });

  test("contrasts of every practice read as parts of a sentence", () => {
    const of = (
      practice: Parameters<typeof sayContrast>[0]["practice"],
      level: string | null,
      at: number | null,
      against: number | null,
    ) => sayContrast({ practice, level, at, against, item: "joint", mode: "back-off" });
    expect(of("cycles on used threads", null, 1, 4)).toBe("made up with 1 make-and-break on used threads instead of 4");
    expect(of("cycles on new threads", null, 3, 0)).toBe(
      "made up with 3 make-and-breaks on new threads instead of none",
    );
    expect(of("threadlocker", "none", null, null)).toBe("made up without threadlocker instead of with it");
    expect(of("shoulder treatment", "anti-seize", null, null)).toBe(
      "made up with anti-seize on the shoulder instead of without",
    );
    expect(of("torque tool", "TM-2", null, null)).toBe("made up with torque tool TM-2 instead of another");
    expect(of("days since calibration", null, 300, 20)).toBe(
      "made up 300 days after the torque tool was calibrated instead of 20",
    );
    expect(of("elastomer", "FKM", null, null)).toBe("of FKM instead of another elastomer");
    expect(of("hardness", null, 78, 86)).toBe("of 78 Shore A instead of 86");
    expect(of("cure age", null, 64, 101)).toBe("fitted 64 days after cure instead of 101");
    expect(of("backup ring", "none", null, null)).toBe("without backup ring instead of with one");
  });

  test("groups, pictures, lots and what would settle it", () => {
    const { detail } = result;
    expect(sayPracticeGroup(detail!.groups[0]!, { unit: null })).toMatch(
      /^Below 0\.95: \d+ failed of \d+ lives on \d+ serials$/,
    );
    expect(sayPracticeGroup({ ...detail!.groups[2]!, failures: 0 }, { unit: null })).toBe(
      "Words instead of a number: none failed of 12 lives on 12 serials",
    );
    expect(sayPracticeFinding(result, "curve")).toBe(
      "Joints, back-off: life against final torque over design torque, corrected for the compound; longest at 1.17, shorter with less and with more",
    );
    expect(sayLots(result)).toBe(
      "More failures than chance deals out in L-118 (main seal), over 40 lots tested. 1 serial still carries one.",
    );
    expect(sayLots(few)).toBe(
      "No lot stands out: 40 lots of an item and mode were tested against what lives as long would bring.",
    );
    expect(saySettling(few.detail!.settling, few.detail!)).toBe(
      "To find a life cut to 0.67 with a chance of 0.8, going on as now takes 52 more failures, about 780 more runs. With the lives there are the chance is 0.08. Where serials alternate it takes 44 failures, about 620 runs. All of it rests on a Weibull shape of 1.3, as far as these records tell it.",
    );
    expect(saySettling(null, few.detail!)).toContain("nobody can say");
  });
});

describe("torque figures", () => {
  const joint = { area: "12", lead: "0.25", thread: "2.35", shoulder: "2.85" };
  const readingOf = (figures: ReturnType<typeof torqueFigures>, what: RegExp, system: "metric" | "field") =>
    figures.readings.find((reading) => what.test(reading.what))?.[system]?.value ?? Number.NaN;

  test("21,914 ft-lbf with a factor of 0.9 is a target of 19,723 (two suppliers' pages), 26,740 N·m", () => {
    const figures = torqueFigures({ design: "21,914", factor: "0.9" }, "field");
    expect(readingOf(figures, /^Target/, "field")).toBeCloseTo(19_722.6, 1);
    expect(readingOf(figures, /^Target/, "metric")).toBeCloseTo(26_740.3, 1);
    expect(figures.problems).toEqual([]);
  });

  test("34,911 ft-lbf on the illustrative joint implies 72,000 psi, 496 MPa; a quarter less friction more, a quarter more less", () => {
    const figures = torqueFigures({ ...joint, final: "34911" }, "field");
    expect(Math.abs(readingOf(figures, /^Stress that/, "field") - 72_000)).toBeLessThan(1);
    expect(readingOf(figures, /^Stress that/, "metric")).toBeCloseTo(496.4, 1);
    // f 0.06 everywhere: 93,444 psi; f 0.10: 58,561 psi.
    expect(Math.abs(readingOf(figures, /quarter less/, "field") - 93_444)).toBeLessThan(2);
    expect(Math.abs(readingOf(figures, /quarter more/, "field") - 58_561)).toBeLessThan(2);
    expect(figures.readings.at(-1)?.what).toBe("Where the torque goes: lead 8.21 %, thread 44.8 %, shoulder 47 %");
  });

  test("the same joint typed in N·m and millimetres gives the same stress", () => {
    const metric = { area: "7741.92", lead: "6.35", thread: "59.69", shoulder: "72.39", final: "47333" };
    expect(Math.abs(readingOf(torqueFigures(metric, "metric"), /^Stress that/, "field") - 72_000)).toBeLessThan(2);
  });

  test("what cannot be used is said by name, and the rest still follows", () => {
    const { problems, readings } = torqueFigures(
      { design: "2800", factor: "0", final: "good tight", angle: "95" },
      "field",
    );
    expect(problems).toEqual([
      'The friction factor "0" is not a number above 0.',
      'The final torque "good tight" is not a number above 0.',
      'The half-angle "95" is not a number above 0 and below 90.',
    ]);
    expect(readings).toEqual([]);
  });
});
