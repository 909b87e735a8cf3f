/** Contracts of the decisions (analysis/study/decisionTypes.ts). */
import type { FleetResult, RedressIntervalResult } from "../../analysis/index.ts";
import { age } from "./lives.ts";
import { estimate, failureDefinition, notice, provenance, scope, studyDefinition } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { plannedAges, sinceDecided } from "./sinceDecided.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeText = z.string().nullable();
const maybeNumber = z.number().nullable();
const numbers = z.array(z.number());

const costUsed = z
  .object({ amount: z.number(), source: z.enum(["asked", "records", "assumed"]), datedOn: maybeText })
  .openapi({ description: "A cost as it was used, and where it is from. `assumed`: nobody gave it." });
const line = z.object({ value: numbers, lower: numbers, upper: numbers });
const simulated = z
  .object({ value: z.number(), error: z.number() })
  .openapi({ description: "A simulated number with its Monte Carlo standard error." });
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

const heatVerdict = z
  .object({
    item: text,
    mode: text,
    defect: maybeText,
    failures: z.int(),
    energy: estimate,
    adjustedPValue: maybeNumber,
    verdict: z.enum(["follows the heat", "not shown", "under ten failures", "no maximum"]),
  })
  .openapi({
    description:
      "Whether a mode's hours count for more in hotter wells; `energy` is an activation energy across the wells.",
  });
const heatOfWells = z.object({
  wellC: z.number(),
  referenceC: z.number(),
  lowC: z.number(),
  highC: z.number(),
  writtenShare: z.number(),
  modes: z.array(heatVerdict),
  byTemperature: z.array(
    z.object({ celsius: z.number(), beforeRedress: ageLimit, nextRun: ageLimit, optimum: maybeNumber }),
  ),
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
      regretMean: z.number().nullable(),
      regretUpper: z.number().nullable(),
      saving: estimate,
      againstToday: z.object({ saving: estimate, cheaperShare: z.number() }).nullable().openapi({
        description: "Share of the cost of today's practice that is saved; share of the draws in which any is.",
      }),
    })
    .nullable(),
  runToFailure: estimate,
  risk: z.object({
    allowedChance: z.number(),
    oneSided: z.number(),
    runHours: z.number(),
    beforeRedress: ageLimit,
    nextRun: ageLimit,
    demonstration: z.array(z.object({ failures: z.int(), runs: z.int() })),
  }),
  heat: heatOfWells
    .nullable()
    .openapi({ description: "Where the next well's temperature is given: hours are hours at it." }),
  today: plannedAges.nullable(),
  decided: z.object({ datedOn: text, intervalH: maybeNumber, statement: text }).nullable(),
  sinceDecided: sinceDecided.nullable(),
  sensitivity: z.array(
    z.object({
      failureCostTimes: z.number(),
      shapeTimes: z.number(),
      optimum: maybeNumber,
      costRate: z.number(),
    }),
  ),
  policies: z.array(
    z.object({
      policy: z.enum([
        "today's practice",
        "recommended interval",
        "limit of the allowed chance",
        "decided interval",
        "each item its own",
        "only after failures",
      ]),
      intervalH: maybeNumber,
      itemIntervals: z.array(z.object({ item: text, intervalH: maybeNumber })),
      cost: simulated,
      failures: simulated,
      redresses: simulated,
      kits: simulated,
      costAgainstFirst: simulated,
    }),
  ),
  notices: z.array(notice),
});

true satisfies SameType<z.infer<typeof redressIntervalResult>, RedressIntervalResult>;

const countRange = z.object({ mean: z.number(), lower: z.number(), upper: z.number() });
const foretoldCount = countRange.extend({ below: z.number(), equal: z.number() });
const forecast = z
  .object({
    months: z.array(z.object({ from: text, failures: countRange, redresses: countRange })),
    failures: countRange,
    redresses: countRange,
    lastYear: z.int(),
    hoursPerYear: z.number(),
    lookBack: z
      .array(
        z.object({
          months: z.union([z.literal(3), z.literal(6), z.literal(12)]),
          actual: z.int(),
          foretold: foretoldCount,
          useKnown: foretoldCount,
          byLastYear: z.number(),
        }),
      )
      .openapi({ description: "From a past date: what was foretold, beside what came. Empty in the present." }),
    service: z.number(),
    kits: z.array(
      z.object({
        kit: text,
        toolType: text,
        perYear: countRange,
        leadTimeD: maybeNumber,
        onHand: maybeNumber,
        expected: z.number(),
        enough: z.number(),
        shortChance: maybeNumber,
        toOrder: maybeNumber,
      }),
    ),
    method: z.object({ futures: z.int(), draws: z.int() }),
  })
  .openapi({ description: "A year ahead. Ranges hold the count with the confidence asked." });
const facts = z.record(text, z.union([z.string(), z.number(), z.null()]));
export const fleetResult = z.object({
  kind: z.literal("fleet"),
  definition: studyDefinition,
  provenance,
  scope,
  failureDefinition,
  tools: z.array(
    z.object({
      serial: text,
      toolType: text,
      sizeIn: maybeNumber,
      status: maybeText,
      statusOn: maybeText,
      location: maybeText,
      reading: z
        .enum(["inside its limit", "look first", "redress due", "not enough known"])
        .openapi({ description: "Advice, never a clearance." }),
      reasons: z.array(
        z.object({
          code: z.enum([
            "found-failed",
            "interval-reached",
            "no-hours-left",
            "records-late",
            "age-unknown",
            "nothing-known",
            "chance-too-high",
            "interval-in-run",
            "inside",
          ]),
          facts,
        }),
      ),
      lastRunOn: maybeText,
      recordsLate: z.boolean(),
      hoursSinceRedress: maybeNumber,
      nextRun: z.object({
        hours: z.number(),
        source: z.enum(["planned", "usual"]),
        startOn: maybeText,
        celsius: maybeNumber,
      }),
      chance: estimate,
      driver: z.object({ item: text, mode: text, age, share: z.number() }).nullable(),
      hoursLeft: maybeNumber,
      hoursLeftBeyond: z.boolean(),
      byHours: z.object({ hours: numbers, chance: line }),
      modes: z.array(
        z.object({
          item: text,
          mode: text,
          age,
          heatAge: maybeNumber,
          state: z.enum(["running", "failed", "not known"]),
          kind: z.enum(["stops a job", "waits for the shop"]),
          chance: z.number(),
        }),
      ),
    }),
  ),
  forecast: forecast.nullable(),
  heat: z.array(
    z.object({
      toolType: text,
      referenceC: z.number(),
      lowC: z.number(),
      highC: z.number(),
      modes: z.array(heatVerdict),
    }),
  ),
  gone: z.int(),
  allowedChance: z.number(),
  oneSided: z.number(),
  intervals: z.array(z.object({ toolType: text, intervalH: z.number(), datedOn: text })),
  notices: z.array(notice),
});

true satisfies SameType<z.infer<typeof fleetResult>, FleetResult>;
