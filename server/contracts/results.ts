/** Contracts of questions and results (analysis/study/types.ts). */
import type {
  Estimate,
  ItemLifeResult,
  Notice,
  Scope,
  ScopeChoices,
  StudyDefinition,
  ToolHistoryResult,
  WhatFailsResult,
} from "../../analysis/index.ts";
import { lawChoices, type PracticeChoice, practices } from "../../analysis/index.ts";
import { age, hoursAccount, life, lifeKind, livesNoticeCodes, lookMark, runMark, toolEvent } from "./lives.ts";
import { rowRef } from "./records.ts";
import { rowContract } from "./rows.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeText = z.string().nullable();
const maybeNumber = z.number().nullable();
const itemKind = z.enum(["seal", "joint", "stack", "pin", "guide", "body"]);
const announces = z.enum(["evident", "hidden"]);
export const missingHours = z.enum(["shop rate", "averaged", "all low", "all high", "left out"]);
export const lawChoice = z.enum(lawChoices);
export const boundsChoice = z.enum(["likelihood ratio", "by serial", "Wald"]);
export const sides = z.enum(["both", "lower"]);
const shapeChoice = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("fixed"), shape: z.number() }),
  z.object({ kind: z.literal("prior"), low: z.number(), high: z.number(), sure: z.number() }),
  z.object({ kind: z.literal("pooled") }),
]);
export const openAudit = z.enum(["used", "left out"]);

export const scope = z.object({
  toolType: maybeText,
  sizeIn: maybeNumber,
  item: maybeText,
  mode: maybeText,
  serial: maybeText,
  customer: maybeText,
  from: maybeText,
  to: maybeText,
  serials: z.array(text).optional(),
  wells: z.array(text).optional(),
});
export const decisionSettings = z
  .object({
    plannedCost: maybeNumber,
    failureCost: maybeNumber,
    foundCost: maybeNumber,
    allowedChance: z.number(),
    runHours: maybeNumber,
    wellC: maybeNumber.default(null),
  })
  .openapi({
    description: "What a decision is asked with. A null cost is taken from the records, or assumed and said so.",
  });
export const practiceId = z.enum(practices.map(({ id }) => id));
export const practiceChoice = z.object({ practice: practiceId, level: maybeText, item: text, mode: text });
export const studyDefinition = z.object({
  question: z.enum(["item life", "what fails", "tool history", "build practice", "redress interval", "fleet"]),
  scope,
  cutoff: maybeText,
  thresholds: z.record(text, z.number()),
  refittedMeansSound: z.boolean(),
  hoursKind: z.enum(["circulating", "drilling", "below rotary"]).nullable(),
  missingHours,
  openAudit: openAudit.optional(),
  confidence: z.number(),
  statedAge: maybeNumber,
  seed: z.number(),
  decision: decisionSettings.optional(),
  law: lawChoice.optional(),
  bounds: boundsChoice.optional(),
  sides: sides.optional(),
  shape: shapeChoice.optional(),
  focus: practiceChoice.optional(),
  settle: z.object({ multiplier: z.number(), power: z.number(), shape: maybeNumber }).optional(),
});
export const estimate = z
  .object({
    value: maybeNumber,
    lower: maybeNumber,
    upper: maybeNumber,
    confidence: z.number(),
    method: z.enum([
      "likelihood ratio",
      "exact Poisson",
      "log-log",
      "Wald",
      "success run",
      "shapes 0.5 to 4",
      "parameter draws",
      "exact binomial",
      "exact conditional",
      "exact conditional, widened by tool",
      "bootstrap by serial",
      "fixed shape",
      "prior on shape",
      "pooled shape",
      "none",
    ]),
    unit: z.enum(["h", "per 1,000 h", "cost per 1,000 h", "fraction", "kJ/mol", "none"]),
    sides: z.literal("lower").optional(),
    why: z
      .enum([
        "not reached",
        "found failed",
        "no failures",
        "no maximum",
        "no hours",
        "before 0 h",
        "no interval pays",
        "no interval shown to pay",
        "nothing stops a job",
      ])
      .optional(),
  })
  .openapi({
    description:
      "A number with its bounds, two-sided unless `sides` says otherwise. A null bound is unbounded; `why` says why a value is null.",
  });
export const notice = z.object({
  code: z.enum([
    ...livesNoticeCodes,
    "few-failures",
    "no-failures",
    "no-maximum",
    "not-converged",
    "extrapolated",
    "linked-modes",
    "law-of-linked-modes",
    "law-without-maximum",
    "law-before-zero",
    "curve-by-wald",
    "bounds-not-as-asked",
    "shape-taken",
    "shape-not-taken",
    "resamples-without-maximum",
    "few-groups",
    "bias-correction-extreme",
    "prior-and-lives-disagree",
    "prior-decides",
    "no-spread-between-groups",
    "follow-up-drawn",
    "looks-assumed",
    "case-decides",
    "mixture-on-the-edge",
    "pattern-without-maximum",
    "margin-without-maximum",
    "looks-missing",
    "informative-looks",
    "sound-by-scope",
    "ranged-ages",
    "missing-hours-matter",
    "tools-differ",
    "bounds-fall-short",
    "sizes-pooled",
    "left-truncated",
    "excluded-lives",
    "poor-fit",
    "many-comparisons",
    "practice-not-written",
    "linked-comparison",
    "restoration-statement",
    "costs-assumed",
    "costs-left-out",
    "constant-rate",
    "interval-beyond-experience",
    "heat-not-written",
    "heat-beyond-seen",
    "invented-data",
  ]),
  facts: z.record(text, z.union([z.string(), z.number(), z.null()])),
  rows: z.array(rowRef).optional(),
});
export const provenance = z.object({ dataHash: text, studyHash: text, engineVersion: text, cutoff: text });
const reasonCounts = z.array(z.object({ reason: text, count: z.int() }));
export const failureDefinition = z.object({
  modes: z.array(
    z.object({
      item: text,
      mode: text,
      threshold: z.number(),
      announces,
      restoredBy: z.enum(["renewed", "made up"]),
      leadsTo: maybeText,
    }),
  ),
  statements: z.array(text),
  clock: z.literal("operating hours"),
  hoursKind: maybeText,
});
const lifeCounts = z.object({
  lives: z.int(),
  serials: z.int(),
  failures: z.int(),
  exact: z.int(),
  interval: z.int(),
  left: z.int(),
  right: z.int(),
  leftTruncated: z.int(),
  noInformation: z.int(),
  excluded: z.int(),
  looks: z.int(),
  informativeLooks: z.int(),
  soundByScope: z.int(),
});
const numbers = z.array(z.number());
export const survivalStep = z.object({
  from: z.number(),
  to: z.number(),
  survival: z.number(),
  lower: maybeNumber,
  upper: maybeNumber,
  atRisk: maybeNumber,
  failures: maybeNumber,
});

export const itemLifeResult = z.object({
  kind: z.literal("item life"),
  definition: studyDefinition,
  provenance,
  scope,
  item: text,
  mode: text,
  toolTypes: z.array(text),
  sizesIn: numbers,
  failureDefinition,
  counts: lifeCounts,
  excluded: reasonCounts,
  noInformation: reasonCounts,
  fit: z
    .object({
      distribution: lawChoice,
      shape: estimate,
      scale: estimate,
      third: estimate.optional(),
      logLikelihood: z.number(),
      iterations: z.int(),
      largestScore: z.number(),
    })
    .nullable(),
  readings: z.object({
    b10: estimate,
    median: estimate,
    mean: estimate,
    statedAge: z.number(),
    reliability: estimate,
  }),
  bounds: z
    .object({
      method: z.enum([...boundsChoice.options, "shape taken"]),
      why: z.enum(["usual", "asked for", "tools differ"]),
      serialsAlike: maybeNumber,
      bySerial: z
        .object({ serials: z.int(), resamples: z.int(), withoutMaximum: z.int(), b10IfSeparate: estimate })
        .nullable(),
    })
    .openapi({ description: "How the bounds were had, and why so. Tools that differ have theirs by serial." }),
  shapeTaken: z
    .object({
      kind: z.enum(["fixed", "prior", "pooled"]),
      low: z.number(),
      high: z.number(),
      sure: z.number(),
      curves: z.object({ shape: numbers, prior: numbers, posterior: numbers }).nullable(),
      pooledFrom: z.object({ groups: z.int(), failures: z.int() }).nullable(),
    })
    .nullable()
    .openapi({ description: "The Weibull shape where it was not left to these lives alone." }),
  survival: z.object({ age: numbers, value: numbers, lower: numbers, upper: numbers }).nullable(),
  longestAge: z.number(),
  nonparametric: z.object({
    method: z.enum(["product-limit", "Turnbull", "none"]),
    boundsMethod: maybeText,
    steps: z.array(survivalStep),
    band: z
      .object({
        confidence: z.number(),
        method: z.literal("equal precision, log-log"),
        fromAge: z.number(),
        toAge: z.number(),
        lower: z.array(maybeNumber),
        upper: z.array(maybeNumber),
      })
      .nullable()
      .openapi({ description: "Holds the whole curve at once between two ages; one pair a step." }),
  }),
  plotPoints: z.array(
    z.object({ low: z.number(), high: z.number(), failedFraction: z.number(), lifeIds: z.array(text) }),
  ),
  histories: z.array(
    z.object({
      lifeId: text,
      serial: text,
      since: text,
      sinceOn: text,
      kind: lifeKind,
      lower: age,
      upper: age.nullable(),
      entry: z.number(),
      informative: z.boolean(),
      looks: z.array(lookMark),
      runs: z.array(runMark),
      ledTo: z
        .object({ mode: text, kind: lifeKind, lower: age, upper: age.nullable() })
        .optional()
        .openapi({ description: "The failure that a defect fitted jointly led to, where it came on this item." }),
    }),
  ),
  laws: z.array(
    z.object({
      law: lawChoice,
      logLikelihood: z.number(),
      aicc: z.number(),
      worseBy: z.number(),
      b10: z.number(),
      median: z.number(),
      reliability: z.number(),
    }),
  ),
  linked: z
    .object({
      defect: text,
      failure: text,
      histories: z.int(),
      defects: z.int(),
      failures: z.int(),
      withoutDefect: z.int(),
      delay: z.object({ shape: estimate, scale: estimate, tenth: estimate, median: estimate }).nullable(),
    })
    .nullable()
    .openapi({
      description: "A defect and the failure it leads to, fitted jointly. Null where the mode is not linked.",
    }),
  sensitivity: z.array(z.object({ missingHours, b10: maybeNumber, median: maybeNumber })),
  notices: z.array(notice),
});

const rateByMode = { item: text, mode: text, failures: z.number(), hours: z.number(), rate: estimate };
export const whatFailsResult = z.object({
  kind: z.literal("what fails"),
  definition: studyDefinition,
  provenance,
  scope,
  failureDefinition,
  tools: z.int(),
  runs: z.int(),
  toolFailures: z.int(),
  toolFailureRate: estimate,
  hours: hoursAccount,
  modes: z.array(
    z.object({
      ...rateByMode,
      toolType: text,
      itemKind,
      position: maybeNumber,
      announces,
      looks: z.int(),
      shrunkenRate: z.number(),
      few: z.boolean(),
      broughtBack: z.int(),
      lifeIds: z.array(text),
    }),
  ),
  periods: z.array(
    z.object({
      from: text,
      to: text,
      label: text,
      failures: z.number(),
      hours: z.number(),
      rate: estimate,
      byMode: z.array(z.object(rateByMode)),
    }),
  ),
  drawing: z.array(
    z.object({
      toolType: text,
      items: z.array(
        z.object({
          item: text,
          kind: itemKind,
          position: maybeNumber,
          failures: z.number(),
          shrunkenRate: maybeNumber,
          few: z.boolean(),
        }),
      ),
    }),
  ),
  toolEvents: z.array(toolEvent),
  buildRejects: z.int(),
  notices: z.array(notice),
});

export const toolHistoryResult = z.object({
  kind: z.literal("tool history"),
  provenance,
  tool: rowContract("tools"),
  items: z.array(rowContract("tool_items")),
  events: z.array(
    z.object({
      on: text,
      order: z.number(),
      row: rowRef,
      toolHours: age,
      event: z.discriminatedUnion("kind", [
        z.object({
          kind: z.literal("redress"),
          redress: rowContract("redresses"),
          joints: z.array(rowContract("joints")),
          fitted: z.array(rowContract("fitted_items")),
        }),
        z.object({ kind: z.literal("run"), run: rowContract("runs"), counted: z.boolean() }),
        z.object({
          kind: z.literal("teardown"),
          teardown: rowContract("teardowns"),
          findings: z.array(rowContract("findings")),
        }),
      ]),
    }),
  ),
  lives: z.array(life),
  ages: z.array(
    z.object({
      item: text,
      mode: text,
      since: text,
      sinceOn: text,
      age,
      state: z.enum(["running", "failed", "not known"]),
      restoredBy: z.enum(["renewed", "made up"]),
    }),
  ),
  runs: z.int(),
  hours: age,
  failures: z.int(),
  toolEvents: z.array(toolEvent),
  notices: z.array(notice),
});

export const scopeChoices = z.object({
  toolTypes: z.array(
    z.object({
      toolType: text,
      sizesIn: numbers,
      items: z.array(z.object({ item: text, kind: itemKind, position: maybeNumber, modes: z.array(text) })),
    }),
  ),
  customers: z.array(text),
  firstDate: maybeText,
  lastDate: maybeText,
  serials: z.array(
    z.object({
      serial: text,
      toolType: text,
      sizeIn: maybeNumber,
      status: maybeText,
      runs: z.int(),
      failures: z.int(),
    }),
  ),
});

true satisfies SameType<z.infer<typeof scope>, Scope>;
true satisfies SameType<z.infer<typeof studyDefinition>, StudyDefinition>;
true satisfies SameType<z.infer<typeof practiceChoice>, PracticeChoice>;
true satisfies SameType<z.infer<typeof estimate>, Estimate>;
true satisfies SameType<z.infer<typeof notice>, Notice>;
true satisfies SameType<z.infer<typeof itemLifeResult>, ItemLifeResult>;
true satisfies SameType<z.infer<typeof whatFailsResult>, WhatFailsResult>;
true satisfies SameType<z.infer<typeof toolHistoryResult>, ToolHistoryResult>;
true satisfies SameType<z.infer<typeof scopeChoices>, ScopeChoices>;
