/** Contract of what came of a decision (analysis/study/sinceDecidedTypes.ts). */
import type { SinceDecided } from "../../analysis/index.ts";
import { estimate } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeText = z.string().nullable();
const maybeNumber = z.number().nullable();

export const plannedAges = z
  .object({ planned: z.int(), quarter: z.number(), middle: z.number(), threeQuarters: z.number() })
  .openapi({ description: "Hours since the redress before, at planned redresses." });

const rateSide = z.object({ failures: z.int(), hours: z.number(), rate: estimate });
const sinceComparison = z.object({
  before: rateSide,
  after: rateSide,
  ratio: estimate,
  crudeRatio: maybeNumber,
  pValue: z.number(),
  expectedAfter: z
    .number()
    .openapi({ description: "Failures that the hours since would have brought at the rates before." }),
  adjustedPValue: z.number().openapi({ description: "Allowing for the number of comparisons (Holm)." }),
  verdict: z.enum(["fewer", "more", "no difference shown", "too little to tell"]),
  spread: z.object({ tools: z.int(), factor: z.number(), pValue: z.number() }).nullable().openapi({
    description: "Scatter of failures between tools over that of chance, and the p-value of chance alone.",
  }),
  byTool: z
    .object({
      inflation: z.number(),
      exact: z.object({ lower: z.number(), upper: maybeNumber, pValue: z.number() }),
    })
    .nullable()
    .openapi({ description: "Present where tools are shown to differ: `ratio` and `pValue` are then by tool." }),
});
const sinceRow = z.object({ item: maybeText, mode: maybeText, asTheyCame: sinceComparison, sameAge: sinceComparison });
const bandSide = z.object({ failures: z.int(), hours: z.number() });

export const sinceDecided = z
  .object({
    decision: z.object({ datedOn: text, statement: text, item: text, intervalH: maybeNumber }),
    countedFrom: maybeText,
    counts: z.enum(["stopped jobs", "found in the shop"]),
    state: z.enum(["compared", "nothing before", "nothing since"]),
    cutoff: text,
    total: sinceRow,
    modes: z.array(sinceRow),
    ages: z.array(z.object({ from: z.number(), to: maybeNumber, before: bandSide, after: bandSide })),
    planned: z.object({ before: plannedAges.nullable(), after: plannedAges.nullable() }),
  })
  .openapi({ description: "What came of the decision in force: failures before its date and since." });

true satisfies SameType<z.infer<typeof sinceDecided>, SinceDecided>;
