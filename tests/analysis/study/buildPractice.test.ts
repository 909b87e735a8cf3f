// The whole question on simulated shops with known truth: counts, plain JSON, sentences, the planted effect, and the shop in
// which nobody can tell.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { cellName } from "../../../analysis/practice/explain/buildFacts.ts";
import { practices } from "../../../analysis/practice/explain/practices.ts";
import type { Records } from "../../../analysis/records/descriptor.ts";
import { carriersOf, lotName } from "../../../analysis/study/buildPractice/carriers.ts";
import type { BuildPracticeResult, PracticeChoice } from "../../../analysis/study/buildPractice/types.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { runStudy } from "../../../analysis/study/runStudy.ts";
import type { StudyContext } from "../../../analysis/study/shopData.ts";
import type { Notice } from "../../../analysis/study/types.ts";
import { noticeFacts } from "../../../analysis/wording/noticeFacts.ts";
import { sayAnswer } from "../../../analysis/wording/sayAnswer.ts";
import { sayNotice } from "../../../analysis/wording/sayNotice.ts";
import {
  sayLots,
  sayPracticeComparison,
  sayPracticeFinding,
  saySettling,
} from "../../../analysis/wording/sayPractice.ts";
import { cleanFleet, defaultFleet, effectsOff } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";

const context: StudyContext = { dataHash: "simulated", statements: [], sample: true };
function ask(
  records: Records,
  more: Partial<ReturnType<typeof defaultStudy>> = {},
  with_ = context,
): BuildPracticeResult {
  const result = runStudy({ ...defaultStudy("build practice"), ...more }, records, with_);
  if (result.kind !== "build practice") throw new Error(result.kind);
  return result;
}
const jointTorque: PracticeChoice = { practice: "corrected torque", level: null, item: "joint", mode: "back-off" };

describe("a small shop with everything that goes wrong", { timeout: 60_000 }, () => {
  const { recorded } = simulateFleet({ ...defaultFleet, serials: 16, seed: 77, to: "2025-03-31" });
  const result = ask(recorded, { focus: jointTorque });

  test("sides and groups add up, what is missing stands beside, and no life is counted twice", () => {
    expect(result.comparisons.length).toBeGreaterThan(20);
    for (const one of result.comparisons) {
      expect(one.with.lives + one.without.lives).toBe(one.lives);
      expect(one.with.failures + one.without.failures).toBe(one.failures);
      expect(one.shareLeft).toBeGreaterThanOrEqual(0);
      expect(one.shareLeft).toBeLessThanOrEqual(1);
    }
    const { groups = [], histories = [] } = result.detail ?? {};
    const torque = result.comparisons.find(
      ({ practice, mode }) => practice === "corrected torque" && mode === "back-off",
    )!;
    const missing = torque.notWritten.lives + torque.writtenAsText.lives + torque.inDoubt.lives;
    expect(groups.reduce((sum, { lives }) => sum + lives, 0)).toBe(torque.lives + missing);
    expect(histories).toHaveLength(torque.lives + missing);
    const ids = groups.flatMap(({ lifeIds }) => lifeIds);
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("a torque written in the other unit is in doubt and no number, until somebody settles it", () => {
    const joints = recorded.joints ?? [];
    const chosen = joints
      .filter(({ joint }) => joint === "J1")
      .filter(
        ({ final_torque_Nm, target_torque_Nm }) =>
          Math.abs((final_torque_Nm ?? 0) / (target_torque_Nm ?? 1) - 1) < 0.03,
      )
      .slice(8, 11);
    const wrong = joints.map((row) =>
      chosen.includes(row) ? { ...row, final_torque_Nm: (row.final_torque_Nm ?? 0) * 1.3558 } : row,
    );
    const doubted = ask({ ...recorded, joints: wrong }, { focus: jointTorque });
    const inDoubt = (of: BuildPracticeResult) => of.joints.reduce((sum, one) => sum + one.inDoubt, 0);
    expect(inDoubt(doubted)).toBe(inDoubt(result) + 3);
    const numbers = (of: BuildPracticeResult) => of.joints.reduce((sum, one) => sum + one.withNumber, 0);
    expect(numbers(doubted)).toBe(numbers(result) - 3);
  });

  test("the torques of a joint whose geometry is known come with the stress they imply, by hand", () => {
    const top = result.joints.find(({ toolType, item }) => toolType === "axial damper" && item === "J1")!;
    // Farr (1957): S = 12 T / (A [p / 2 pi + Rt f / cos 30 + Rs f]) with 2,800 ft-lbf, 2.2 in2, 0.25, 1.45, 1.75 in and f 0.08.
    const arm = 0.25 / (2 * Math.PI) + (1.45 * 0.08) / Math.cos(Math.PI / 6) + 1.75 * 0.08;
    expect(top.stress?.atDesign).toBeCloseTo(((12 * 2800) / (2.2 * arm)) * 0.00689475729, 3);
    expect(top.stress!.low).toBeLessThan(top.stress!.middle);
    expect(top.stress!.middle).toBeLessThan(top.stress!.high);
    expect(top.stress!.joints).toBeLessThanOrEqual(top.withNumber);
    const noDrawing = result.joints.find(({ toolType, item }) => toolType === "bypass valve" && item === "J2")!;
    expect(noDrawing.stress).toBeNull();
  });

  test("tested, claimed and ranked: claims first, then what nobody can tell", () => {
    const { comparisons, tested, claims } = result;
    expect(comparisons.filter(({ screenedPValue }) => screenedPValue !== null)).toHaveLength(tested);
    expect(comparisons.filter(({ selected }) => selected !== null)).toHaveLength(claims);
    const order = comparisons.map(({ verdict }) => (verdict.endsWith("life") ? 0 : verdict === "cannot tell" ? 1 : 2));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    for (const { screenedPValue, verdict } of comparisons)
      if (verdict.endsWith("life")) expect(screenedPValue).toBeLessThanOrEqual(0.05);
  });

  test("plain JSON: nothing is lost on the way to the page", () => {
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
    expect(JSON.stringify(result)).not.toMatch(/NaN|Infinity/);
  });

  test("every number has its sentence, none says causes, and no notice lacks a fact", () => {
    const said = [
      sayAnswer(result),
      ...result.comparisons.map(sayPracticeComparison),
      sayLots(result),
      ...(result.detail ? [saySettling(result.detail.settling, result.detail)] : []),
      ...(["ranked", "curve", "groups"] as const).map((picture) => sayPracticeFinding(result, picture)),
    ];
    for (const sentence of said) {
      expect(sentence).not.toMatch(/undefined|null|NaN|Infinity|\[object|!/);
      expect(sentence).not.toMatch(/\bcauses?d?\b(?! only)(?! )|significant/);
    }
    for (const notice of result.notices) {
      const names: readonly string[] = noticeFacts[notice.code as Notice["code"]];
      if (!("count" in notice.facts)) expect(Object.keys(notice.facts).sort()).toEqual([...names].sort());
      expect(sayNotice(notice)).not.toMatch(/undefined|NaN/);
    }
  });

  test("looking at another comparison changes the detail and nothing else; one that is not there is refused", () => {
    const focus: PracticeChoice = { practice: "compound", level: "zinc paste", item: "joint", mode: "back-off" };
    const other = ask(recorded, { focus });
    expect(other.comparisons).toEqual(result.comparisons);
    expect(other.detail?.choice).toEqual(focus);
    expect(other.detail?.curve).toBeNull();
    expect(() => ask(recorded, { focus: { ...focus, mode: "wear" } })).toThrow(AnalysisError);
  });

  test("words in a torque cell become a group of their own", () => {
    const blank = (recorded.joints ?? []).filter(({ final_torque_Nm }) => final_torque_Nm == null);
    const cellTexts = Object.fromEntries(
      blank.map(({ redress, joint }) => [
        cellName("joints", JSON.stringify([redress, joint]), "final_torque_Nm"),
        "good tight",
      ]),
    );
    const noted = ask(recorded, { focus: jointTorque }, { ...context, cellTexts });
    const torque = noted.comparisons.find(({ practice, mode }) => practice === "torque" && mode === "back-off")!;
    expect(torque.notWritten.lives).toBe(0);
    expect(torque.writtenAsText.lives).toBeGreaterThan(0);
    expect(noted.detail?.groups.some(({ name, isWritten }) => name === "written as text" && !isWritten)).toBe(true);
    expect(noted.joints.reduce((sum, { asText }) => sum + asText, 0)).toBe(blank.length);
  });

  test("the trial plan alternates within tool type and size, each serial in service once, and follows the seed", () => {
    const plan = result.detail?.plan ?? [];
    const service = (recorded.tools ?? []).filter(({ status }) => status !== "lost in hole" && status !== "scrapped");
    expect(plan.map(({ serial }) => serial).sort()).toEqual(service.map(({ serial }) => serial).sort());
    plan.forEach((one, index) => {
      const before = plan[index - 1];
      if (before?.toolType === one.toolType && before.sizeIn === one.sizeIn) expect(one.first).not.toBe(before.first);
    });
    expect(ask(recorded, { focus: jointTorque, seed: 1 }).detail?.plan).toEqual(plan);
  });

  test("the same records in another order give the same comparisons", () => {
    const turned = Object.fromEntries(
      Object.entries(recorded).map(([table, rows]) => [table, [...(rows ?? [])].reverse()]),
    ) as Records;
    const other = ask(turned, { focus: jointTorque });
    const torque = (of: BuildPracticeResult) =>
      of.comparisons.find(({ practice, mode }) => practice === "corrected torque" && mode === "back-off")!;
    expect(torque(other).adjusted?.value).toBeCloseTo(torque(result).adjusted?.value ?? Number.NaN, 6);
    expect(other.tested).toBe(result.tested);
  });
});

describe("planted truth", { timeout: 120_000 }, () => {
  const wells = { ...effectsOff, toolSpread: true, temperature: true, vibration: true, size: true };
  const slope = (Math.LN2 * 1.3) / 0.1;
  const torqueOf = (options: Partial<typeof defaultFleet>) => {
    const { recorded } = simulateFleet({
      ...cleanFleet,
      effects: { ...wells, torque: true, compound: true },
      torqueSlope: slope,
      ...options,
    });
    const result = ask(recorded, {
      scope: { ...defaultStudy("build practice").scope, mode: "back-off" },
      focus: jointTorque,
      settle: { multiplier: 2 / 3, power: 0.8, shape: null },
    });
    return { result, torque: result.comparisons.find(({ practice }) => practice === "corrected torque")! };
  };

  test("half the life at 0.9 of the corrected torque is found, and its bounds hold 0.5", () => {
    const { torque, result } = torqueOf({ seed: 4101, to: "2025-06-30" });
    expect(torque.verdict).toBe("shorter life");
    expect(torque.selected?.lower).toBeLessThan(0.5);
    expect(torque.selected?.upper).toBeGreaterThan(0.5);
    expect(result.detail?.modelsAgree).toBe(true);
    // A model that assumes no law of life says about the same, and its bounds hold the truth as well.
    const pieces = result.detail?.otherModels.find(({ what }) => what.startsWith("proportional hazards"))?.multiplier;
    expect(Math.abs(Math.log((pieces?.value ?? 0) / (torque.adjusted?.value ?? 1)))).toBeLessThan(0.15);
    expect(pieces?.lower).toBeLessThan(0.5);
    expect(pieces?.upper).toBeGreaterThan(0.5);
    expect(sayAnswer(result)).toMatch(/^Joints made up at 0\.9 of the design torque .*times as long/);
  });

  test("where each crew makes up one way only nobody can tell, and only alternating would; with a quarter overlapping the effect shows", () => {
    const confounded = torqueOf({ seed: 4102, confounded: { mixedCrews: 0 } });
    expect(confounded.torque.verdict).toBe("cannot tell");
    expect(confounded.torque.goesAlongWith[0]?.what).toBe("technician");
    expect(confounded.torque.unadjusted?.upper).toBeLessThan(1);
    expect(confounded.torque.selected).toBeNull();
    expect(sayPracticeComparison(confounded.torque)).toContain("cannot tell what it does before back-off");
    const { asNow, alternating } = confounded.result.detail!.settling!;
    expect(asNow?.failures ?? Number.POSITIVE_INFINITY).toBeGreaterThan(3 * alternating!.failures);

    const twin = torqueOf({ seed: 4102, confounded: { mixedCrews: 0.25 } });
    expect(twin.torque.verdict).toBe("shorter life");
    expect(twin.torque.adjusted?.lower).toBeLessThan(0.5);
    expect(twin.torque.adjusted?.upper).toBeGreaterThan(0.5);
  });
});

test("a lot is carried by the serial it was last fitted to, through redresses that left it in, and by no lost tool", () => {
  const fitted = (redress: string, renewed: boolean, lot: string | null) => ({
    redress,
    item: "main seal",
    renewed,
    lot,
  });
  const redress = (name: string, serial: string, done_on: string) => ({
    redress: name,
    serial,
    done_on,
    reason: "planned" as const,
  });
  const records: Records = {
    tools: [
      { serial: "A", tool_type: "Quill", status: "out" },
      { serial: "B", tool_type: "Quill", status: "lost in hole" },
      { serial: "C", tool_type: "Quill" },
    ],
    redresses: [
      redress("A1", "A", "2024-01-01"),
      redress("A2", "A", "2024-02-01"),
      redress("B1", "B", "2024-01-01"),
      redress("C1", "C", "2024-01-01"),
      redress("C2", "C", "2024-02-01"),
      redress("C3", "C", "2025-01-01"),
    ],
    fitted_items: [
      fitted("A1", true, "L1"),
      fitted("A2", false, null),
      fitted("B1", true, "L1"),
      fitted("C1", true, "L1"),
      fitted("C2", true, "L2"),
      fitted("C3", true, "L1"),
    ],
  };
  const carriers = carriersOf(records, "2024-12-31");
  expect(carriers.get(lotName("main seal", "L1"))).toEqual([{ serial: "A", redress: "A1", status: "out" }]);
  expect(carriers.get(lotName("main seal", "L2"))).toEqual([{ serial: "C", redress: "C2", status: null }]);
});

test("every practice is written down for some kind of item, and none stands in for the cells it is made of", () => {
  for (const { id, on, sameCells } of practices) {
    expect(on.length).toBeGreaterThan(0);
    expect(sameCells).not.toContain(id);
  }
});
