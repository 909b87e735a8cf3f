/** Contract of the Build practice result (analysis/study/buildPractice/types.ts). */
import type { BuildPracticeResult } from "../../analysis/index.ts";
import { lifeKind } from "./lives.ts";
import {
  failureDefinition,
  notice,
  practiceChoice,
  provenance,
  scope,
  studyDefinition,
  survivalStep,
} from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeText = z.string().nullable();
const maybeNumber = z.number().nullable();
const numbers = z.array(z.number());

const multiplier = z
  .object({ value: z.number(), lower: maybeNumber, upper: maybeNumber, confidence: z.number(), pValue: z.number() })
  .openapi({ description: "How many times as long a life lasts, with two-sided bounds; a null bound is unbounded." });
const side = z.object({ lives: z.int(), failures: z.int() });
const comparison = practiceChoice.extend({
  items: z.array(text),
  title: text,
  unit: maybeText,
  at: maybeNumber,
  against: maybeNumber,
  leadsTo: maybeText,
  lives: z.int(),
  failures: z.int(),
  serials: z.int(),
  with: side,
  without: side,
  notWritten: side,
  writtenAsText: side,
  inDoubt: side,
  unadjusted: multiplier.nullable(),
  adjusted: multiplier.nullable(),
  screenedPValue: maybeNumber,
  selected: multiplier.nullable(),
  verdict: z.enum(["shorter life", "longer life", "no difference shown yet", "cannot tell", "too few failures"]),
  shareLeft: z.number(),
  goesAlongWith: z.array(z.object({ what: text, share: z.number() })),
});
const otherAnswer = z.object({ what: text, lives: z.int(), failures: z.int(), multiplier: multiplier.nullable() });
const needed = { failures: z.int(), runs: z.int() };

const detail = z.object({
  choice: practiceChoice,
  curve: z
    .object({
      at: numbers,
      value: numbers,
      lower: numbers,
      upper: numbers,
      confidence: z.number(),
      straightPValue: z.number(),
    })
    .nullable(),
  histories: z.array(
    z.object({
      lifeId: text,
      serial: text,
      item: text,
      kind: lifeKind,
      at: maybeNumber,
      name: maybeText,
      lower: z.number(),
      upper: maybeNumber,
    }),
  ),
  groups: z.array(
    z.object({
      name: text,
      lives: z.int(),
      failures: z.int(),
      serials: z.int(),
      from: maybeNumber,
      to: maybeNumber,
      isWritten: z.boolean(),
      steps: z.array(survivalStep),
      followedTo: z.number().openapi({ description: "Age up to which ten lives or more were followed, hours." }),
      lifeIds: z.array(text),
    }),
  ),
  whoDidWhat: z.array(
    z.object({
      what: text,
      rows: z.array(z.object({ name: text, lives: z.int(), failures: z.int(), practice: maybeNumber })),
    }),
  ),
  otherModels: z.array(otherAnswer),
  modelsAgree: z.boolean(),
  withoutOne: z.array(otherAnswer),
  imputed: multiplier.nullable(),
  settling: z
    .object({
      multiplier: z.number(),
      power: z.number(),
      shape: z.number().openapi({ description: "Weibull shape of the simulated lives." }),
      isShapeStated: z.boolean(),
      level: z.number().openapi({ description: "P-value at which a comparison stands out in this screen." }),
      powerNow: z.number().openapi({ description: "Chance to find it in as many lives as there are now; simulated." }),
      asNow: z.object({ ...needed, more: z.int(), moreRuns: z.int() }).nullable(),
      alternating: z.object(needed).nullable(),
    })
    .nullable(),
  plan: z.array(z.object({ serial: text, toolType: text, sizeIn: maybeNumber, first: z.enum(["at", "against"]) })),
});

export const buildPracticeResult = z.object({
  kind: z.literal("build practice"),
  definition: studyDefinition,
  provenance,
  scope,
  failureDefinition,
  comparisons: z.array(comparison),
  tested: z.int(),
  claims: z.int(),
  falseDiscoveryRate: z.number(),
  lives: z.int(),
  failures: z.int(),
  serials: z.int(),
  detail: detail.nullable(),
  lots: z.array(
    z.object({
      item: text,
      lot: text,
      mode: text,
      lives: z.int(),
      failures: z.int(),
      expected: z.number(),
      pValue: z.number(),
      screenedPValue: z.number(),
      isOnWatch: z.boolean(),
      lifeIds: z.array(text),
      carriedBy: z.array(z.object({ serial: text, redress: text, status: maybeText })),
    }),
  ),
  lotsTested: z.int(),
  joints: z.array(
    z.object({
      toolType: text,
      item: text,
      designTorqueNm: maybeNumber,
      madeUp: z.int(),
      withNumber: z.int(),
      asText: z.int(),
      inDoubt: z.int(),
      notWritten: z.int(),
      below90: z.int(),
      above110: z.int(),
      medianRatio: maybeNumber,
      medianCorrectedRatio: maybeNumber,
      stress: z
        .object({ atDesign: maybeNumber, low: z.number(), middle: z.number(), high: z.number(), joints: z.int() })
        .nullable()
        .openapi({ description: "Implied make-up stress, MPa; null where the geometry is not in the item list." }),
    }),
  ),
  notices: z.array(notice),
});

true satisfies SameType<z.infer<typeof buildPracticeResult>, BuildPracticeResult>;
