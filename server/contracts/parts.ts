/** Contracts of the long parts of an answer about an item's life (analysis/study/partTypes.ts). */
import type { LifePart } from "../../analysis/index.ts";
import { estimate, notice, provenance } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string();
const maybeNumber = z.number().nullable();
const ratio = estimate.nullable();
const base = {
  provenance,
  item: text,
  mode: text,
  why: z.enum(["linked modes", "no fit"]).nullable(),
  notices: z.array(notice),
};
const compared = z.object({
  name: text,
  lives: z.int(),
  failures: z.number(),
  shape: maybeNumber,
  b10: maybeNumber,
});
const law = z.object({ shape: z.number(), scale: z.number() });
export const groupBy = z.enum(["size", "tool type", "elastomer", "backup ring", "customer", "period"]);

export const fitChecks = z.object({
  kind: z.literal("checks"),
  ...base,
  goodness: z.object({ pValue: z.number(), simulations: z.int(), monteCarloError: z.number() }).nullable(),
  twoPatterns: z
    .object({ pValue: z.number(), simulations: z.int(), earlyFraction: z.number(), early: law, main: law })
    .nullable(),
  twoPatternsWhy: z.enum(["late entry", "no maximum"]).nullable(),
  drift: z.object({ splitOn: text, groups: z.tuple([compared, compared]), pValue: maybeNumber, ratio }).nullable(),
  renewal: z
    .object({
      strata: z.array(z.object({ from: z.int(), to: z.int().nullable(), lives: z.number(), failures: z.int() })),
      pValue: maybeNumber,
      tenthOverFirst: ratio,
    })
    .nullable(),
  influence: z.array(
    z.object({ lifeId: text, serial: text, sinceOn: text, b10Without: z.number(), b10Ratio: z.number() }),
  ),
});

const sensitivityRows = z.array(z.object({ setting: z.number(), b10: maybeNumber, median: maybeNumber }));
export const lookSensitivity = z.object({
  kind: z.literal("looks"),
  ...base,
  share: z.number(),
  dependence: sensitivityRows,
  detection: sensitivityRows,
});

export const groupsCompared = z.object({
  kind: z.literal("groups"),
  ...base,
  by: groupBy,
  groups: z.array(z.object({ name: text, lives: z.int(), failures: z.int() })),
  compared: z
    .object({
      first: compared,
      second: compared,
      sameShape: maybeNumber,
      sameLife: maybeNumber,
      ratio,
      regions: z.array(
        z.object({
          name: text,
          shape: z.number(),
          scale: z.number(),
          outline: z.array(law),
          isOpen: z.boolean(),
        }),
      ),
      confidence: z.number(),
    })
    .nullable(),
});

export const lifePart = z.discriminatedUnion("kind", [fitChecks, lookSensitivity, groupsCompared]);

true satisfies SameType<z.infer<typeof lifePart>, LifePart>;
