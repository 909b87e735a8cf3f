import { expect, test } from "vitest";
import type { LawComparison } from "../../../analysis/study/types.ts";
import { sayLawFit, sayLaws } from "../../../analysis/wording/index.ts";

const row = (law: LawComparison["law"], worseBy: number, b10: number, median: number): LawComparison => ({
  law,
  worseBy,
  b10,
  median,
  aicc: 100 + worseBy,
  logLikelihood: -50,
  reliability: 0.9,
});

test("laws the lives cannot tell apart, and how far their readings part", () => {
  const laws = [row("lognormal", 0, 199, 774), row("weibull", 0.94, 204, 554), row("exponential", 15.8, 185, 1215)];
  expect(sayLaws(laws)).toBe(
    "Lognormal and Weibull fit these lives alike. One in ten has failed by 199 h to 204 h, half by 554 h to 774 h, depending on the law.",
  );
  expect(laws.map(sayLawFit)).toEqual(["fits best", "fits alike", "fits clearly worse"]);
});

test("one law before the others", () => {
  expect(sayLaws([row("weibull", 0, 204, 554), row("gamma", 4, 200, 600)])).toBe(
    "Weibull fits these lives better than the others.",
  );
  expect(sayLawFit({ worseBy: 4 })).toBe("fits less well");
});
