// Golden sentences: today's wording, so that a change is noticed and read.
import { describe, expect, test } from "vitest";
import {
  type SinceComparison,
  type SinceDecided,
  saySince,
  saySinceAge,
  saySinceCounts,
  saySinceFinding,
  saySinceKept,
  saySinceMark,
  saySinceSpread,
  saySinceTitle,
  saySinceVerdicts,
} from "../../../analysis/index.ts";
import { compareRates, judgeComparisons } from "../../../analysis/study/compareRates.ts";

type Counts = readonly [failures: number, hours: number];

function comparison(before: Counts, after: Counts, more: Partial<SinceComparison> = {}): SinceComparison {
  const side = ([failures, hours]: Counts) => ({ failures, hours });
  const [one] = judgeComparisons([compareRates([{ before: side(before), after: side(after) }], 0.9)], 0.9);
  return {
    ...one!,
    expectedAfter: before[1] === 0 ? 0 : (before[0] * after[1]) / before[1],
    spread: { tools: 20, factor: 1.04, pValue: 0.41 },
    byTool: null,
    ...more,
  };
}

function since(came: SinceComparison, aged: SinceComparison, more: Partial<SinceDecided> = {}): SinceDecided {
  return {
    decision: { datedOn: "2025-03-01", statement: "Redress at 150 h.", item: "whole tool", intervalH: 150 },
    countedFrom: null,
    counts: "stopped jobs",
    state: "compared",
    cutoff: "2026-06-30",
    total: { item: null, mode: null, asTheyCame: came, sameAge: aged },
    modes: [],
    ages: [],
    planned: { before: null, after: null },
    ...more,
  };
}

const halved = since(comparison([60, 20_000], [20, 16_000]), comparison([60, 20_000], [41, 16_000]));

describe("the answer", () => {
  test("fewer as they came, no difference at the same ages", () => {
    expect(saySinceTitle(halved)).toBe("What came of the decision of 1 Mar 2025");
    expect(saySince(halved)).toBe(
      "As they came: fewer; the rate is 0.417 times (0.26–0.65, 90 %) the rate before. At the same ages: no difference shown yet; the rate is 0.854 times (0.598–1.21, 90 %) the rate before. Before: 60 failures that stop a job in 20,000 h. Since, to 30 Jun 2026: 20 failures that stop a job in 16,000 h.",
    );
    expect(saySinceFinding(halved)).toBe("Rate since over rate before: fewer in all as they came");
  });

  test("too short a time: how much there is so far", () => {
    const short = since(comparison([3, 900], [1, 120]), comparison([3, 900], [1, 120]), { countedFrom: "2024-01-01" });
    expect(saySince(short)).toBe(
      "Too little to tell yet: at the rate before, the hours since would have brought 0.4 failures. Before: 3 failures that stop a job in 900 h, counted from 1 Jan 2024, the date of the decision before. Since, to 30 Jun 2026: 1 failure that stops a job in 120 h.",
    );
  });

  test("the picture of too short a time says so", () => {
    const short = comparison([3, 900], [1, 120]);
    expect(saySinceFinding(since(short, short))).toBe("Rate since over rate before: too little to tell yet");
  });

  test("nothing since, nothing before, and what the shop found where no mode stops a job", () => {
    const none = since(comparison([9, 900], [0, 0]), comparison([9, 900], [0, 0]), { state: "nothing since" });
    expect(saySince(none)).toBe(
      "Nothing has run since the decision of 1 Mar 2025: the records end on 30 Jun 2026. Before: 9 failures that stop a job in 900 h. Since, to 30 Jun 2026: nothing ran.",
    );
    const first = since(comparison([0, 0], [2, 900]), comparison([0, 0], [2, 900]), {
      state: "nothing before",
      counts: "found in the shop",
    });
    expect(saySinceVerdicts(first)).toBe(
      "The records hold no hours from before the decision of 1 Mar 2025, so there is nothing to compare with.",
    );
    expect(saySinceCounts(first)).toBe(
      "Before: nothing ran. Since, to 30 Jun 2026: 2 failures found in the shop in 900 h.",
    );
  });

  test("none since, or none before: one bound, said as such", () => {
    const gone = since(comparison([30, 9000], [0, 9000]), comparison([0, 9000], [30, 9000]));
    expect(saySinceVerdicts(gone)).toBe(
      "As they came: fewer; the rate is at most 0.105 times (90 %) the rate before. At the same ages: more; the rate is at least 9.52 times (90 %) the rate before.",
    );
    expect(saySinceMark(gone.total, "asTheyCame")).toBe(
      "All together, as they came: fewer, at most 0.105 times (90 %) the rate before (30 failures in 9,000 h before, no failures in 9,000 h since)",
    );
  });
});

describe("whether tools differ", () => {
  const spread = { tools: 20, factor: 3.2, pValue: 0.001 };

  test("not tested, not shown, shown with wider bounds", () => {
    const of = (more: Partial<SinceComparison>) =>
      saySinceSpread(since(comparison([60, 20_000], [41, 16_000]), comparison([60, 20_000], [41, 16_000], more)));
    expect(of({ spread: null })).toBe(
      "Fewer than five tools ran, so it was not tested whether tools differ; the exact bounds take every failure for itself.",
    );
    expect(of({})).toBe(
      "That tools differ by more than chance is not shown (1 times the scatter of chance between 20 tools, p 0.41), so the exact bounds stand.",
    );
    const byTool = { inflation: 2.25, exact: { lower: 0.589, upper: 1.23, pValue: 0.5 } };
    expect(of({ spread, byTool })).toBe(
      "Tools differ by more than chance (3.2 times the scatter of chance between 20 tools, p 0.001): the exact bounds would be too narrow, so they are widened by tool (variance 2.3 times; every failure for itself would give 0.589–1.23).",
    );
    // Failures only at ages that nothing ran to on the other side: no ratio, and no bounds to widen.
    const none = comparison([0, 0], [9, 900], { spread });
    expect(saySinceSpread(since(none, none))).toBe(
      "Failures on tools show 3.2 times the scatter of chance between 20 tools, p 0.001; there is no ratio whose bounds that could widen.",
    );
    // The same tools ran alike on both sides: what they differ by cancels.
    expect(of({ spread, byTool: { ...byTool, inflation: 1 } })).toBe(
      "Tools differ by more than chance (3.2 times the scatter of chance between 20 tools, p 0.001), but the same tools ran before and since and that cancels in the ratio: bounds by tool are hardly wider (every failure for itself would give 0.589–1.23).",
    );
  });
});

test("whether it was kept, and the names of ages", () => {
  const planned = { planned: 40, quarter: 190, middle: 210, threeQuarters: 240 };
  const later = { planned: 1, quarter: 148, middle: 148, threeQuarters: 148 };
  expect(saySinceKept({ ...halved, planned: { before: planned, after: later } })).toBe(
    "Was it kept? Before: half of 40 planned redresses at 190–240 h (middle 210 h). Since: the one planned redress at 148 h; decided: 150 h.",
  );
  expect(saySinceKept(halved)).toBeNull();
  const side = { failures: 0, hours: 1 };
  expect([
    saySinceAge({ from: 50, to: 100, before: side, after: side }),
    saySinceAge({ from: 400, to: null, before: side, after: side }),
  ]).toEqual(["50–100 h", "400 h and more"]);
});
