// The long parts of an answer about an item's life: checks of the fit, inspections doubted, two groups compared.
import { describe, expect, test } from "vitest";
import { AnalysisError } from "../../../analysis/errors.ts";
import { fitWeibull } from "../../../analysis/estimation/fitWeibull.ts";
import { defaultStudy } from "../../../analysis/study/definition.ts";
import { livesAskedFor } from "../../../analysis/study/livesAskedFor.ts";
import type {
  FitChecks,
  GroupBy,
  GroupsCompared,
  LifePart,
  LookSensitivity,
} from "../../../analysis/study/partTypes.ts";
import { runLifePart } from "../../../analysis/study/runLifePart.ts";
import { sampleOf } from "../../../analysis/study/settleAges.ts";
import { shopData } from "../../../analysis/study/shopData.ts";
import type { StudyDefinition } from "../../../analysis/study/types.ts";
import {
  sayChecks,
  sayGroup,
  sayGroupsCompared,
  sayLookSensitivity,
  sayNotice,
  sayWhyNoPart,
} from "../../../analysis/wording/index.ts";
import { defaultFleet } from "../../../datasets/sample-fleet/generator/options.ts";
import { simulateFleet } from "../../../datasets/sample-fleet/generator/simulateFleet.ts";
import { smallShop } from "../../support/smallShop.ts";
import { context } from "./handShop.ts";

const small = smallShop();
const { recorded: fleet } = simulateFleet({ ...defaultFleet, serials: 16, seed: 8 });
const seal = defaultStudy("item life", { item: "main seal", mode: "wear" });
const set = defaultStudy("item life", { item: "main seal", mode: "compression set" });
const checksOf = (definition: StudyDefinition, records = small, shares?: number[]): FitChecks => {
  const onShare = shares && ((share: number) => shares.push(share));
  const part = runLifePart(definition, { kind: "checks" }, records, { ...context, ...(onShare && { onShare }) });
  if (part.kind !== "checks") throw new Error(part.kind);
  return part;
};
const looksOf = (definition: StudyDefinition, records = fleet): LookSensitivity => {
  const part = runLifePart(definition, { kind: "looks" }, records, context);
  if (part.kind !== "looks") throw new Error(part.kind);
  return part;
};
const groupsOf = (
  by: GroupBy,
  definition = seal,
  records = small,
  names: Partial<Record<"first" | "second", string>> = {},
): GroupsCompared => {
  const { first = null, second = null } = names;
  const part = runLifePart(definition, { kind: "groups", by, first, second }, records, context);
  if (part.kind !== "groups") throw new Error(part.kind);
  return part;
};
const isPlain = (part: LifePart): boolean => JSON.stringify(part) === JSON.stringify(JSON.parse(JSON.stringify(part)));

describe("does the curve fit", { timeout: 60_000 }, () => {
  const checks = checksOf(seal);

  test("every check is answered in words, the same each time, and plain JSON", () => {
    expect(sayChecks(checks).map(({ name }) => name)).toHaveLength(5);
    expect(
      sayChecks(checks)
        .map(({ says }) => says)
        .join(" "),
    ).not.toMatch(/NaN|undefined|null|Infinity/);
    expect(checksOf(seal)).toEqual(checks);
    expect(isPlain(checks)).toBe(true);
    for (const notice of checks.notices) expect(sayNotice(notice)).not.toContain("not known is");
  });

  test("progress rises from 0 to 1 over both simulations", () => {
    const shares: number[] = [];
    checksOf(seal, small, shares);
    expect(shares.length).toBeGreaterThan(290);
    expect(shares.every((share, i) => share >= (shares[i - 1] ?? 0) && share < 1)).toBe(true);
  });

  // By hand, in the small shop: each of four serials has four builds, one after the other.
  test("restorations are counted on their serial: four first ones, four second, four third, four fourth", () => {
    expect(checks.renewal?.strata.map(({ from, lives }) => [from, lives])).toEqual([
      [1, 4],
      [2, 4],
      [3, 4],
      [4, 4],
    ]);
    const failures = checks.renewal?.strata.reduce((sum, one) => sum + one.failures, 0);
    expect(failures).toBe(10);
  });

  test("the strongest failure, left out and fitted again by itself, moves B10 as the check says", () => {
    const [first] = checks.influence;
    const { settled } = livesAskedFor(seal, shopData(small, seal));
    const rest = fitWeibull(sampleOf(settled.filter(({ life }) => life.id !== first?.lifeId)));
    if (rest.maximum !== "found") throw new Error(rest.maximum);
    expect(first?.b10Without).toBeCloseTo(rest.scale * (-Math.log(0.9)) ** (1 / rest.shape), 4);
  });

  test("the law that is read is the one that is tested", () => {
    expect(checksOf({ ...seal, law: "exponential" }).goodness?.pValue).not.toBe(checks.goodness?.pValue);
  });

  test("nothing is checked of a defect that is fitted with what it leads to, and it is said why", () => {
    const part = checksOf(defaultStudy("item life", { item: "main seal", mode: "extrusion" }), fleet);
    expect(part).toMatchObject({ why: "linked modes", goodness: null, influence: [] });
    expect(sayWhyNoPart(part)).toContain("fitted together");
  });
});

describe("inspections doubted", { timeout: 60_000 }, () => {
  test("seen always is the plain fit; the less is seen, the earlier it must have come", () => {
    const { detection } = looksOf(set);
    expect(detection.map(({ setting }) => setting)).toEqual([1, 0.9, 0.8, 0.7]);
    const { settled } = livesAskedFor(set, shopData(fleet, set));
    const plain = fitWeibull(sampleOf(settled));
    if (plain.maximum !== "found") throw new Error(plain.maximum);
    expect(detection[0]?.b10).toBeCloseTo(plain.scale * (-Math.log(0.9)) ** (1 / plain.shape), 0);
    const ages = detection.map(({ b10 }) => b10 ?? 0);
    expect([...ages].sort((a, b) => b - a)).toEqual(ages);
  });

  test("dependence is shown exactly where more than a tenth of the closing looks followed another failure", () => {
    const modes = [
      ["main seal", "compression set"],
      ["stack", "compression set"],
      ["guide band", "wear"],
      ["J2", "galling"],
    ] as const;
    for (const [item, mode] of modes) {
      const part = looksOf(defaultStudy("item life", { item, mode }));
      expect(part.dependence.length > 0, `${item} ${mode}`).toBe(part.share > 0.1);
      expect(sayLookSensitivity(part)).not.toMatch(/NaN|undefined/);
    }
  });

  // The simulated fleet's other failure of a main seal is its leak; lives restored late are looked at after it more often.
  test("where many looks followed a leak: tau 0 is the plain fit, and the rows are the lives of that scope", () => {
    const scopes = ["2022-01-01", "2022-07-01", "2023-01-01", "2023-07-01", "2024-01-01", "2024-07-01", "2025-01-01"];
    const shown = scopes
      .map((from) => ({ ...set, scope: { ...set.scope, from } }))
      .filter((definition) => looksOf(definition).dependence.length > 0);
    expect(shown.length).toBeGreaterThan(0);
    const found = shown.flatMap((definition) => {
      const { settled } = livesAskedFor(definition, shopData(fleet, definition));
      const plain = fitWeibull(sampleOf(settled));
      return plain.maximum === "found" ? [{ part: looksOf(definition), plain }] : [];
    })[0];
    if (!found) throw new Error("no scope with a fit");
    expect(found.part.dependence.map(({ setting }) => setting)).toEqual([0, 0.3, 0.6]);
    const own = found.part.dependence[0]?.b10 ?? 0;
    expect(own / (found.plain.scale * (-Math.log(0.9)) ** (1 / found.plain.shape))).toBeCloseTo(1, 2);
    expect(sayLookSensitivity(found.part)).toContain("came because the item had failed otherwise");
  });

  test("a mode that announces itself has no inspections to doubt", () => {
    expect(looksOf(defaultStudy("item life", { item: "main seal", mode: "leak" })).detection).toEqual([]);
  });
});

describe("two groups", () => {
  test("by size: every life is in a group, the ratio is of the two B10, and its inverse the other way round", () => {
    const { groups, compared } = groupsOf("size", set, fleet);
    expect(groups.reduce((sum, { lives }) => sum + lives, 0)).toBe(
      livesAskedFor(set, shopData(fleet, set)).lives.length,
    );
    const { first, second, ratio } = compared ?? {};
    expect(ratio?.value).toBeCloseTo((first?.b10 ?? 0) / (second?.b10 ?? 1), 6);
    const names = { first: second?.name ?? "", second: first?.name ?? "" };
    const turned = groupsOf("size", set, fleet, names).compared?.ratio;
    expect(turned?.value).toBeCloseTo(1 / (ratio?.value ?? 1), 5);
    expect(turned?.lower).toBeCloseTo(1 / (ratio?.upper ?? 1), 4);
    for (const { outline, isOpen } of compared?.regions ?? []) expect(isOpen).toBe(outline.length < 90);
    expect(compared?.regions).toHaveLength(2);
    expect(sayGroupsCompared(groupsOf("size", set, fleet))).toMatch(/over .* times the hours/);
  });

  test("a group of too few failures is named, and no ratio is made up", () => {
    const part = groupsOf("size");
    expect(part.compared?.ratio).toBeNull();
    expect(sayGroupsCompared(part)).toContain("too few failures");
  });

  test("by period: the date that halves the lives; by what nobody wrote down: said", () => {
    const { groups, compared } = groupsOf("period");
    expect(groups.map(({ lives }) => lives)).toEqual([8, 8]);
    expect(compared?.first.name).toMatch(/^(before|from) 2024-/);
    expect(sayGroup("period", "before 2024-07-11")).toBe("before 11 Jul 2024");
    expect(groupsOf("backup ring")).toMatchObject({ groups: [], compared: null });
    expect(sayGroupsCompared(groupsOf("backup ring"))).toContain("do not say the backup ring");
    expect(sayGroupsCompared(groupsOf("tool type"))).toContain("one tool type only");
  });

  test("by elastomer on the simulated fleet: as fitted at the restoring redress", () => {
    const part = groupsOf("elastomer", set, fleet);
    const data = shopData(fleet, set);
    const own = livesAskedFor(set, data).lives.filter(({ since }) =>
      (fleet.fitted_items ?? []).some(
        (row) => row.redress === since && row.item === "main seal" && row.elastomer === part.groups[0]?.name,
      ),
    );
    expect(part.groups[0]?.lives).toBe(own.length);
    expect(sayGroupsCompared(part)).not.toMatch(/NaN|undefined/);
  });

  test("a group that is not there, or compared with itself, is refused by name", () => {
    expect(() => groupsOf("size", seal, small, { first: "9", second: "6.5" })).toThrow(AnalysisError);
    expect(() => groupsOf("size", seal, small, { first: "6.5", second: "6.5" })).toThrow(AnalysisError);
  });
});
