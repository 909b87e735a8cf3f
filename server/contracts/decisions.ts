/** Contracts of the decisions (analysis/study/decisionTypes.ts). */
import type { RedressIntervalResult } from "../../analysis/index.ts";
import { estimate, failureDefinition, notice, provenance, scope, studyDefinition } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeText = z.string().nullable();
const maybeNumber = z.number().nullable();
const numbers = z.array(z.number());

const costUsed = z
  .object({ amount: z.number(), source: z.enum(["asked", "records", "assumed"]), datedOn: maybeText })
  .openapi({ description: "A cost as it was used, and where it is from. `assumed`: nobody gave it." });
const line = z.object({ value: numbers, lower: numbers, upper: numbers });
const ageLimit = z
  .object({ age: maybeNumber, estimate: maybeNumber, beyondGrid: z.boolean() })
  .openapi({ description: "Largest age at which the upper bound of a chance stays under the allowed one." });
const modeInDecision = z.object({
  item: text,
  mode: text,
  defect: maybeText,
  kind: z.enum(["evident", "hidden", "linked"]),
  law: z.enum(["Weibull", "both fitted together", "constant rate"]),
  lives: z.int(),
  failures: z.int(),
  shape: estimate,
  scale: estimate,
  longestAge: z.number(),
  stops: costUsed.nullable(),
  found: costUsed.nullable(),
  perCycle: z.object({ stops: z.number(), found: z.number(), costShare: z.number() }),
});

export const redressIntervalResult = z.object({
  kind: z.literal("redress interval"),
  definition: studyDefinition,
  provenance,
  scope,
  toolType: text,
  sizesIn: numbers,
  item: maybeText,
  failureDefinition,
  currency: maybeText,
  planned: costUsed,
  modes: z.array(modeInDecision),
  ownClock: z.array(z.object({ item: text, mode: text, renewedShare: z.number() })),
  curves: z.object({ age: numbers, costRate: line, stoppedBefore: line, nextRun: line }),
  longestAge: z.number(),
  verdict: z.object({
    pays: z.enum(["yes", "not shown", "no"]),
    payShare: z.number(),
    because: z
      .enum(["the risk does not rise with hours", "a failure costs too little", "nothing stops a job"])
      .nullable(),
    fixFirst: z.object({ item: text, mode: text, costShare: z.number() }).nullable(),
  }),
  optimum: estimate,
  recommended: z
    .object({
      age: z.number(),
      flatFrom: z.number(),
      flatTo: z.number(),
      flatToEnd: z.boolean(),
      costRate: estimate,
      stoppedBefore: estimate,
      regretMean: z.number(),
      regretUpper: z.number(),
      saving: estimate,
    })
    .nullable(),
  runToFailure: estimate,
  risk: z.object({
    allowedChance: z.number(),
    oneSided: z.number(),
    runHours: z.number(),
    beforeRedress: ageLimit,
    nextRun: ageLimit,
  }),
  today: z.object({ planned: z.int(), quarter: z.number(), middle: z.number(), threeQuarters: z.number() }).nullable(),
  decided: z.object({ datedOn: text, intervalH: maybeNumber, statement: text }).nullable(),
  sensitivity: z.array(
    z.object({
      failureCostTimes: z.number(),
      shapeTimes: z.number(),
      optimum: maybeNumber,
      costRate: z.number(),
    }),
  ),
  notices: z.array(notice),
});

true satisfies SameType<z.infer<typeof redressIntervalResult>, RedressIntervalResult>;
