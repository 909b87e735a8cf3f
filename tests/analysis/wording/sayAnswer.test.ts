// Golden sentences: today's wording, so that a change is noticed and read.
import { expect, test } from "vitest";
import type {
  Estimate,
  ItemLifeResult,
  LifeCounts,
  ModeRate,
  Scope,
  StudyDefinition,
  ToolHistoryResult,
  WhatFailsResult,
} from "../../../analysis/study/types.ts";
import { sayAnswer } from "../../../analysis/wording/index.ts";

const scope: Scope = {
  toolType: null,
  sizeIn: null,
  item: null,
  mode: null,
  serial: null,
  customer: null,
  from: null,
  to: null,
};
const definition: StudyDefinition = {
  question: "item life",
  scope,
  cutoff: null,
  thresholds: {},
  refittedMeansSound: false,
  hoursKind: null,
  missingHours: "shop rate",
  confidence: 0.9,
  statedAge: null,
  seed: 1,
};
const provenance = { dataHash: "d", studyHash: "s", engineVersion: "0", cutoff: "2026-06-30" };
const failureDefinition = { modes: [], statements: [], clock: "operating hours", hoursKind: null } as const;
const hoursEstimate = (value: number | null, lower: number | null, upper: number | null): Estimate => ({
  value,
  lower,
  upper,
  confidence: 0.9,
  method: "likelihood ratio",
  unit: "h",
  ...(value === null ? { why: "no maximum" as const } : {}),
});
const rate = (value: number, lower: number, upper: number): Estimate => ({
  value,
  lower,
  upper,
  confidence: 0.9,
  method: "exact Poisson",
  unit: "per 1,000 h",
  ...(value === 0 ? { why: "no failures" as const } : {}),
});

interface Readings {
  readonly median: Estimate;
  readonly b10: Estimate;
  readonly reliability?: Estimate;
}

function itemLife(
  counts: Partial<LifeCounts>,
  { median, b10, reliability = { ...hoursEstimate(null, null, null), unit: "fraction" } }: Readings,
  given: Partial<ItemLifeResult> = {},
): ItemLifeResult {
  return {
    kind: "item life",
    definition,
    provenance,
    scope,
    item: "main seal",
    mode: "extrusion",
    bounds: { method: "likelihood ratio", why: "usual", serialsAlike: null, bySerial: null },
    shapeTaken: null,
    toolTypes: ["AD"],
    sizesIn: [6.5],
    failureDefinition,
    counts: {
      lives: 412,
      serials: 40,
      failures: 63,
      exact: 10,
      interval: 50,
      left: 3,
      right: 349,
      leftTruncated: 0,
      noInformation: 0,
      excluded: 0,
      looks: 300,
      informativeLooks: 10,
      soundByScope: 20,
      ...counts,
    },
    excluded: [],
    noInformation: [],
    fit: null,
    readings: { b10, median, mean: hoursEstimate(null, null, null), statedAge: 150, reliability },
    survival: null,
    longestAge: 620,
    nonparametric: { method: "Turnbull", boundsMethod: null, steps: [], band: null },
    plotPoints: [],
    histories: [],
    laws: [],
    linked: null,
    sensitivity: [],
    notices: [],
    ...given,
  };
}

const unknown = hoursEstimate(null, null, null);

test("half of them last: number, bounds and count", () => {
  const result = itemLife({}, { median: hoursEstimate(410, 365, 455), b10: hoursEstimate(130, 104, 160) });
  expect(sayAnswer(result)).toBe(
    "Half of the main seals last 410 h (365–455, 90 %) before extrusion: 63 failures among 412 followed.",
  );
  expect(sayAnswer({ ...result, item: "J1", mode: "back-off" })).toBe(
    "Half of the lives of J1 last 410 h (365–455, 90 %) before back-off: 63 failures among 412 followed.",
  );
});

test("a defect fitted jointly says how long it takes to become the failure it leads to", () => {
  const delay = { shape: unknown, scale: unknown, tenth: hoursEstimate(14, 6, 25), median: hoursEstimate(62, 41, 96) };
  const linked = {
    defect: "extrusion",
    failure: "leak",
    histories: 412,
    defects: 63,
    failures: 20,
    withoutDefect: 0,
    delay,
  };
  const readings = { median: hoursEstimate(410, 365, 455), b10: hoursEstimate(130, 104, 160) };
  expect(sayAnswer(itemLife({}, readings, { linked }))).toBe(
    "Half of the main seals last 410 h (365–455, 90 %) before extrusion: 63 failures among 412 followed. Once it has come, half go on to leak within 62 h (41–96, 90 %).",
  );
  expect(sayAnswer(itemLife({}, readings, { linked, mode: "leak" }))).not.toContain("Once it has come");
});

test("where the shape cannot be told, the share still good at an age still can", () => {
  const reliability: Estimate = {
    value: 0.951,
    lower: 0.931,
    upper: 0.967,
    confidence: 0.9,
    method: "shapes 0.5 to 4",
    unit: "fraction",
  };
  const result = itemLife({ failures: 22 }, { median: unknown, b10: unknown, reliability });
  expect(sayAnswer({ ...result, item: "J1", mode: "back-off" })).toBe(
    "How long J1 lasts before back-off cannot be told yet: 22 failures among 412 followed, the longest followed for 620 h. At 150 h 95.1 % (93.1–96.7, 90 %) were still good, whatever the shape between 0.5 and 4. More failures at different ages would tell.",
  );
});

test("an unbounded upper end is said in words", () => {
  const result = itemLife({ failures: 4 }, { median: hoursEstimate(410, 220, null), b10: hoursEstimate(130, 60, 400) });
  expect(sayAnswer(result)).toBe(
    "Half of the main seals last 410 h (220–unbounded, 90 %) before extrusion: 4 failures among 412 followed.",
  );
});

test("a median beyond experience gives way to one in ten", () => {
  const result = itemLife(
    { failures: 12 },
    { median: hoursEstimate(1520, 900, 3100), b10: hoursEstimate(310, 240, 420) },
  );
  expect(sayAnswer(result)).toBe(
    "One in ten of the main seals has failed by extrusion at 310 h (240–420, 90 %): 12 failures among 412 followed. " +
      "Half would last 1,520 h (900–3,100, 90 %), but that is beyond experience: none was followed longer than 620 h.",
  );
});

test("a median not reached is said so", () => {
  const median: Estimate = { ...unknown, why: "not reached" };
  const result = itemLife({ failures: 12 }, { median, b10: hoursEstimate(310, 240, null) });
  expect(sayAnswer(result)).toBe(
    "One in ten of the main seals has failed by extrusion at 310 h (240–unbounded, 90 %): 12 failures among 412 followed. " +
      "The age by which half have failed is not reached in these records.",
  );
});

test("no failures: a least life if there is one, and what would tell", () => {
  const result = itemLife({ failures: 0, lives: 20 }, { median: unknown, b10: hoursEstimate(null, 214, null) });
  expect(sayAnswer(result)).toBe(
    "No main seal failed by extrusion: no failures among 20 followed, the longest for 620 h. " +
      "At least nine in ten last 214 h (90 %). Only failures, or more hours, would tell how long they last.",
  );
  const still: Estimate = { ...unknown, unit: "fraction", lower: 0.861 };
  expect(
    sayAnswer(itemLife({ failures: 0, lives: 20 }, { median: unknown, b10: unknown, reliability: still })),
  ).toContain("At 150 h at least 0.861 of them are still good (90 %).");
});

test("one failure cannot tell how long they last", () => {
  const result = itemLife({ failures: 1, lives: 9 }, { median: unknown, b10: unknown }, { item: "guide body" });
  expect(sayAnswer(result)).toBe(
    "How long the guide bodies last before extrusion cannot be told yet: 1 failure among 9 followed, the longest followed for 620 h. " +
      "A second failure at another age would tell.",
  );
});

test("no lives: says what would begin to answer", () => {
  const none = itemLife({ lives: 0, failures: 0 }, { median: unknown, b10: unknown });
  expect(sayAnswer(none)).toBe(
    "Nothing is known yet of how long the main seal lasts before extrusion. " +
      "Bring the records that hold its builds, runs and teardowns, or widen the scope.",
  );
  const waiting = itemLife({ lives: 0, failures: 0, noInformation: 7 }, { median: unknown, b10: unknown });
  expect(sayAnswer(waiting)).toBe(
    "Nothing is known yet of how long the main seal lasts before extrusion. " +
      "7 histories are still without an inspection: a teardown that covers main seal would begin to answer.",
  );
});

const mode = (item: string, name: string, failures: number, given: Estimate): ModeRate => ({
  toolType: "AD",
  item,
  itemKind: "seal",
  position: 1,
  mode: name,
  announces: "hidden",
  failures,
  hours: 12_000,
  looks: 200,
  rate: given,
  shrunkenRate: given.value ?? 0,
  few: failures < 5,
  broughtBack: 0,
  lifeIds: [],
});

function whatFails(modes: readonly ModeRate[], given: Partial<WhatFailsResult> = {}): WhatFailsResult {
  return {
    kind: "what fails",
    definition,
    provenance,
    scope,
    failureDefinition,
    tools: 60,
    runs: 3012,
    toolFailures: 41,
    toolFailureRate: rate(0.34, 0.26, 0.44),
    hours: { total: 121_000, used: 120_400, unused: [] },
    modes,
    periods: [],
    drawing: [],
    toolEvents: [],
    buildRejects: 0,
    notices: [],
    ...given,
  };
}

test("what fails: the most frequent mode, and whether its lead is shown", () => {
  const seal = mode("main seal", "extrusion", 63, rate(5.2, 4.2, 6.4));
  expect(sayAnswer(whatFails([mode("J1", "galling", 4, rate(9, 3, 20)), seal]))).toBe(
    "The most frequent failure is main seal, extrusion: 63 of 67 found, 5.2 per 1,000 h (4.2–6.4, 90 %). " +
      "No difference shown yet to J1, galling (4): the bounds of the rates overlap. " +
      "41 of 3,012 runs ended with a tool failure: 0.34 per 1,000 h (0.26–0.44, 90 %).",
  );
  expect(sayAnswer(whatFails([seal, mode("J1", "galling", 4, rate(0.3, 0.1, 0.8))]))).toBe(
    "The most frequent failure is main seal, extrusion: 63 of 67 found, 5.2 per 1,000 h (4.2–6.4, 90 %). " +
      "41 of 3,012 runs ended with a tool failure: 0.34 per 1,000 h (0.26–0.44, 90 %).",
  );
});

test("what fails: no failures and no runs have their own words", () => {
  const quiet = whatFails([mode("J1", "galling", 0, rate(0, 0, 0.25))], {
    runs: 12,
    tools: 1,
    toolFailures: 0,
    toolFailureRate: rate(0, 0, 2.4),
    hours: { total: 1300, used: [1240, 1262], unused: [] },
  });
  expect(sayAnswer(quiet)).toBe(
    "No failure found in 12 runs of 1 tool, 1,240–1,260 h used. " +
      "None of 12 runs ended with a tool failure: no failures (at most 2.4 per 1,000 h, 90 %).",
  );
  expect(sayAnswer(whatFails([], { runs: 0 }))).toBe(
    "No run in this scope, so nothing can be said of what fails. Widen the scope, or bring the sheet that holds the runs.",
  );
});

function toolHistory(given: Partial<ToolHistoryResult>): ToolHistoryResult {
  return {
    kind: "tool history",
    provenance,
    tool: { serial: "AD650-014", tool_type: "AD", size_in: 6.5, status: "in shop", status_on: "2026-05-02" },
    items: [],
    events: [],
    lives: [],
    ages: [],
    runs: 42,
    hours: [2310, 2354],
    failures: 5,
    toolEvents: [],
    notices: [],
    ...given,
  };
}

test("a tool's story in short", () => {
  expect(sayAnswer(toolHistory({}))).toBe(
    "AD650-014, 6 1/2 in, has made 42 runs, 2,310–2,350 h, with 5 item failures. In shop since 2 May 2026.",
  );
  const failed = toolHistory({
    failures: 1,
    runs: 1,
    hours: 80,
    toolEvents: [{ serial: "AD650-014", event: "lost in hole", on: "2026-05-02", age: 80, run: "R1" }],
    tool: { serial: "AD650-014", tool_type: "AD" },
    ages: [
      {
        item: "main seal",
        mode: "extrusion",
        since: "B1",
        sinceOn: "2026-01-01",
        age: 80,
        state: "failed",
        restoredBy: "renewed",
      },
      {
        item: "J1",
        mode: "galling",
        since: "B1",
        sinceOn: "2026-01-01",
        age: 80,
        state: "running",
        restoredBy: "renewed",
      },
    ],
  });
  expect(sayAnswer(failed)).toBe(
    "AD650-014 has made 1 run, 80 h, with 1 item failure and 1 tool failure or loss. " +
      "Found failed and not restored yet: main seal, extrusion.",
  );
  expect(sayAnswer(toolHistory({ runs: 0 }))).toBe(
    "AD650-014, 6 1/2 in, has no run in these records yet. In shop since 2 May 2026. " +
      "Its story begins with the first run that is written down.",
  );
});
