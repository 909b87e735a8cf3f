// Golden sentences: what a statement says where the records say little, much, or nothing. Each was read for saying no more.
// Bounds of the ratios were worked out apart, by bisection of binomial tails in another language.
import { describe, expect, test } from "vitest";
import { exactRate } from "../../../analysis/estimation/exactRate.ts";
import { rateRatio } from "../../../analysis/estimation/rateRatio.ts";
import { plainText, type StatementDefinition, statementDocument } from "../../../analysis/index.ts";
import { exactShare } from "../../../analysis/statement/exactShare.ts";
import type { Comparison, StatementLife, StatementTrend } from "../../../analysis/statement/types.ts";
import { sayGroup } from "../../../analysis/wording/statement/sayGroup.ts";
import { sayHalfYears } from "../../../analysis/wording/statement/sayHalfYears.ts";
import { sayRateComparison } from "../../../analysis/wording/statement/sayRateComparison.ts";
import { sayFailureFree, sayToolFailures } from "../../../analysis/wording/statement/sayRates.ts";
import { saySurvival } from "../../../analysis/wording/statement/saySurvival.ts";
import { sayTrend } from "../../../analysis/wording/statement/sayTrend.ts";
import { shopOf, spells, statementOf } from "../../support/statementShop.ts";

const rate = (failures: number, hours: number) => exactRate({ failures, hours, confidence: 0.9 });
const toolFailures = (failures: number) =>
  plainText(sayToolFailures({ runs: 40, hours: 2400, failures, rate: rate(failures, 2400) }, "r"));

function comparison(
  [r0, h0]: [number, number],
  [r1, h1]: [number, number],
  verdict: Comparison["verdict"],
  more = {},
): string {
  const exact = rateRatio([{ before: { failures: r0, hours: h0 }, after: { failures: r1, hours: h1 } }], 0.9);
  const one: Comparison = {
    toolType: null,
    item: null,
    mode: null,
    before: { failures: r0, hours: h0, rate: rate(r0, h0) },
    after: { failures: r1, hours: h1, rate: rate(r1, h1) },
    ratio: {
      value: exact.ratio,
      lower: exact.failures > 0 ? exact.lower : null,
      upper: exact.upper,
      confidence: 0.9,
      method: "exact conditional",
      unit: "none",
    },
    crudeRatio: null,
    ageStandardised: false,
    pValue: exact.pValue,
    adjustedPValue: exact.pValue,
    verdict,
    ...more,
  };
  return plainText(sayRateComparison(one, "r"));
}

describe("how often", () => {
  test("no failures: not a rate of zero, an upper bound", () => {
    expect(toolFailures(0)).toBe(
      "The tool ended none of 40 runs, in 2,400 h. That does not show a rate of zero: it is at most 1.25 per 1,000 h (5 % above).",
    );
  });

  test("one failure: the bounds, not the middle", () => {
    expect(toolFailures(1)).toBe(
      "The tool ended 1 of 40 runs, in 2,400 h: 0.417 per 1,000 h (0.0214–1.98, 90 %). One failure fixes no rate: read the bounds, not the middle.",
    );
  });

  test("several failures", () => {
    expect(toolFailures(10)).toBe("The tool ended 10 of 40 runs, in 2,400 h: 4.17 per 1,000 h (2.26–7.07, 90 %).");
  });

  test("no runs: nothing is claimed", () => {
    expect(plainText(sayToolFailures({ runs: 0, hours: 0, failures: 0, rate: rate(0, 0) }, "r"))).toBe(
      "No run is counted in this scope, so nothing is claimed.",
    );
  });

  test("runs not ended by the tool, alone and clustered", () => {
    const share = exactShare(22, 22, 0.9);
    expect(plainText(sayFailureFree({ runs: 22, free: 22, share, designEffect: 1, serials: 5 }, "r"))).toBe(
      "22 of 22 runs by 5 tools were not ended by the tool: 100 % (87.3–100, 90 %). At least 87.3 % is what these runs show (5 % below).",
    );
    expect(plainText(sayFailureFree({ runs: 22, free: 22, share, designEffect: 3.2, serials: 5 }, "r"))).toContain(
      "Failures cluster by tool (3.2 times the scatter of chance), so the bounds are wider than 22 independent runs would give.",
    );
  });
});

describe("before and after", () => {
  test("overlapping: no difference shown yet", () => {
    expect(comparison([12, 2400], [6, 2600], "no difference shown")).toBe(
      "Runs that the tool ended: no difference shown yet. The rate after is 0.462 times (0.171–1.15, 90 %) the rate before, and 1 (no change) lies within the bounds (12 failures in 2,400 h before, 6 failures in 2,600 h after).",
    );
  });

  test("clear improvement: at least so much fewer", () => {
    expect(comparison([40, 2400], [8, 2600], "fewer")).toBe(
      "Runs that the tool ended: fewer failures after the change. The rate is 0.185 times (0.0866–0.36, 90 %) the rate before; at least 64 % fewer is shown (40 failures in 2,400 h before, 8 failures in 2,600 h after).",
    );
  });

  test("clear worsening: at least so many times as many", () => {
    expect(comparison([8, 2600], [40, 2400], "more")).toBe(
      "Runs that the tool ended: more failures after the change. The rate is 5.42 times (2.78–11.6, 90 %) the rate before; at least 2.78 times as many is shown (8 failures in 2,600 h before, 40 failures in 2,400 h after).",
    );
  });

  test("too few failures to tell; none before; none after; no hours", () => {
    expect(comparison([2, 900], [1, 800], "too little to tell")).toBe(
      "Runs that the tool ended: too few failures to tell (2 failures in 900 h before, 1 failure in 800 h after); the rate after may be 0.563 times (0.0194–7.19, 90 %) the rate before.",
    );
    expect(comparison([0, 900], [3, 800], "too little to tell")).toContain(
      "the rate after may be 0.656 times or more (90 %) the rate before",
    );
    expect(comparison([3, 900], [0, 800], "too little to tell")).toContain(
      "the rate after may be at most 1.93 times (90 %) the rate before",
    );
    expect(comparison([3, 900], [0, 0], "too little to tell")).toContain(
      "nothing to compare, no hours after the change",
    );
  });

  test("bounds that miss 1 among many comparisons are not called a difference", () => {
    expect(comparison([12, 2400], [4, 2600], "no difference shown", { adjustedPValue: 0.43 })).toContain(
      "alone the bounds would exclude 1, but among so many comparisons such a one comes by chance (p 0.054, allowing for them 0.43)",
    );
  });
});

describe("how long", () => {
  const life = (more: Partial<StatementLife>): StatementLife => ({
    counts: { lives: 40, failures: 6, right: 34, noInformation: 0, excluded: 0 },
    age: 100,
    survival: { value: 0.912, lower: 0.83, upper: 0.96, confidence: 0.9, method: "likelihood ratio", unit: "fraction" },
    beyondExperience: null,
    longestAge: 310,
    b10: { value: null, lower: null, upper: null, confidence: 0.9, method: "none", unit: "h" },
    median: { value: null, lower: null, upper: null, confidence: 0.9, method: "none", unit: "h" },
    failedAlone: 80,
    result: "r",
    ...more,
  });
  const said = (more: Partial<StatementLife>) => plainText(saySurvival("Main seal, wear", life(more)));

  test("within experience", () => {
    expect(said({})).toBe("Main seal, wear: 91.2 % (83–96, 90 %) still good at 100 h, from 6 failures among 40 lives.");
  });

  test("too short experience: not known beyond the longest life", () => {
    expect(said({ age: 400, survival: null, beyondExperience: 0.4 })).toBe(
      "Main seal, wear: not known at 400 h. None was followed beyond 310 h, and nothing is claimed beyond it (6 failures among 40 lives).",
    );
  });

  test("no failures: at least", () => {
    expect(
      said({
        counts: { lives: 40, failures: 0, right: 40, noInformation: 0, excluded: 0 },
        survival: {
          value: null,
          lower: 0.928,
          upper: null,
          confidence: 0.9,
          method: "success run",
          unit: "fraction",
          why: "no failures",
        },
      }),
    ).toBe("Main seal, wear: no failure among 40 lives; at least 92.8 % (90 %) still good at 100 h.");
  });

  test("one failure, and nobody followed", () => {
    expect(said({ counts: { lives: 40, failures: 1, right: 39, noInformation: 0, excluded: 0 } })).toContain(
      "from 1 failure among 40 lives. One failure does not tell how the risk grows.",
    );
    expect(said({ counts: { lives: 0, failures: 0, right: 0, noInformation: 3, excluded: 0 } })).toBe(
      "Main seal, wear: not known, because none was followed from new or made up to an inspection.",
    );
  });
});

describe("trend", () => {
  const trend = (direction: StatementTrend["direction"]): string =>
    plainText(
      sayTrend(
        {
          failures: 12,
          hours: 2400,
          systems: 5,
          laplace: { statistic: -2.4, pValue: 0.0164 },
          handbook: { chiSquare: 40, degreesOfFreedom: 24, pValue: 0.042 },
          shape: null,
          direction,
        },
        "r",
      ),
    );
  test("each direction, and neither", () => {
    expect(trend("none shown")).toBe(
      "No trend is shown over the hours of the tools, from 12 runs that the tool ended, on 5 tools (Laplace p 0.016, chi-square p 0.042). That is not proof that there is none.",
    );
    expect(trend("improving")).toContain("one rate for the whole period overstates the present one");
    expect(trend("worsening")).toContain("one rate for the whole period understates the present one");
    expect(trend("too few failures")).toBe(
      "Whether tools end their runs more or less often as they run on cannot be told from 12 runs that the tool ended, on 5 tools.",
    );
  });
});

describe("half-years beside the trend", () => {
  const half = (label: string, failures: number) => ({
    from: "2025-01-01",
    to: "2025-12-31",
    label,
    failures,
    hours: 2000,
    rate: rate(failures, 2000),
    byMode: [],
  });
  const said = (...failures: readonly number[]) =>
    sayHalfYears({
      periods: failures.map((count, index) => half(`2025 ${index === 0 ? "Jan-Jun" : "Jul-Dec"}`, count)),
    });

  test("a difference is said as that of another count", () => {
    expect(said(4, 20).finding).toBe(
      "Items found failed per 1,000 h by half-year: higher in 2025 Jul-Dec than in 2025 Jan-Jun",
    );
    expect(plainText(said(4, 20).difference ?? [])).toBe(
      "By the calendar, items found failed per 1,000 h: higher in 2025 Jul-Dec than in 2025 Jan-Jun. That is another count: an item found failed at an inspection need not have ended a run.",
    );
  });

  test("no difference shown, or a single half-year, adds no sentence", () => {
    expect(said(8, 10)).toEqual({
      finding:
        "Items found failed per 1,000 h by half-year: no difference shown yet between 2025 Jan-Jun and 2025 Jul-Dec",
      difference: null,
    });
    expect(said(8)).toEqual({ finding: "Items found failed per 1,000 h by half-year", difference: null });
  });
});

describe("a single incident", () => {
  const worn = shopOf(
    spells(12, { nth: 6 }).map((one, index) => (index === 5 ? { ...one, cause: "ring cut at fitting" } : one)),
  );
  const action = { what: "Fit with a sleeve", item: "main seal", mode: null, state: "open", on: "2025-02-01" } as const;
  const said = (more: Partial<StatementDefinition> = {}): readonly string[] => {
    const section = statementDocument(
      statementOf(worn, { kind: "incident", incidentRun: "RUN-B-0006", masked: false, ...more }),
    ).sections.find(({ id }) => id === "incident");
    return (section?.blocks ?? []).flatMap((block) =>
      block.kind === "paragraph" ? [plainText(block.text)] : block.kind === "list" ? block.items.map(plainText) : [],
    );
  };

  test("tool, hours, finding, cause, how rare, action", () => {
    const [first, finding, done, among] = said({
      actions: [action, { what: "Check pin", item: "pin", mode: null, state: "open", on: null }],
    });
    expect(first).toBe(
      "QX-101 (Quill, 4 3/4 in), run RUN-B-0006, Well B-0006: came in on 9 Feb 2024 for a tool failure, after 60 h. Torn down on 10 Feb 2024.",
    );
    expect(finding).toMatch(
      /^Main seal: wear, severity 4 \(failed\), about [\d.]+ h after it was restored\. Cause: ring cut at fitting\. How rare: 2 found in 720 h inspected in this scope, this one included, 2\.78 per 1,000 h \(0\.494–8\.74, 90 %\)\./,
    );
    expect(done).toBe("Corrective action: Fit with a sleeve (open, due 1 Feb 2025).");
    expect(among).toBe(
      "This run is one of all those of the scope. The tool ended 2 of 12 runs, in 720 h: 2.78 per 1,000 h (0.494–8.74, 90 %).",
    );
  });

  test("no action, and one that is done", () => {
    expect(said()).toContain("Corrective action: none written down.");
    expect(said({ actions: [{ ...action, state: "done" }] })).toContain(
      "Corrective action: Fit with a sleeve (done 1 Feb 2025).",
    );
  });
});

test("sizes are named as the trade names them, other groups by their name", () => {
  expect(["4.75 in", "6.5 in", "not written"].map((name) => sayGroup("size", name))).toEqual([
    "4 3/4 in",
    "6 1/2 in",
    "not written",
  ]);
  expect(sayGroup("mud", "9 oil base")).toBe("9 oil base");
});
