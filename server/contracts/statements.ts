/** Contracts of statements (analysis/statement). */
import type {
  StatementDefinition,
  StatementDocument,
  StatementPreview,
  StatementProgress,
  StatementsReply,
} from "../../analysis/index.ts";
import { scope } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const text = z.string().max(200);
const words = z.string().max(2_000);
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, "date");
const hoursKind = z.enum(["circulating", "drilling", "below rotary"]).nullable();
const thresholds = z.record(text, z.number());

export const statementDefinition = z.object({
  kind: z.enum(["periodic", "incident", "before and after"]),
  scope,
  audience: z.enum(["engineer", "manager"]),
  units: z.enum(["metric", "oilfield"]),
  decimalMark: z.enum(["point", "comma"]).optional(),
  runHours: z.number().nullable(),
  cutoff: day.nullable(),
  thresholds,
  hoursKind,
  customerDefinition: z.object({ thresholds, hoursKind }).nullable(),
  confidence: z.number(),
  asked: z.array(z.enum(["mean time between failures", "failures a month"])),
  change: z
    .object({ what: words, on: day, countedFrom: day.nullable(), appliesTo: z.enum(["builds", "runs"]) })
    .nullable(),
  incidentRun: text.nullable(),
  actions: z
    .array(
      z.object({
        what: words,
        item: text.nullable(),
        mode: text.nullable(),
        state: z.enum(["done", "open"]),
        on: day.nullable(),
      }),
    )
    .max(100),
  masked: z.boolean(),
});

const plain = z.string();
const figure = z.object({ text: plain, value: z.number().nullable(), result: plain });
const inline = z.array(z.union([plain, figure]));
const cell = z.union([plain, z.object({ value: z.number().nullable(), text: plain })]);
const block = z.union([
  z.object({ kind: z.literal("paragraph"), text: inline }),
  z.object({ kind: z.literal("list"), items: z.array(inline) }),
  z.object({ kind: z.literal("caution"), title: plain, items: z.array(inline) }),
  z.object({
    kind: z.literal("table"),
    id: plain,
    title: plain,
    columns: z.array(z.object({ title: plain, kind: z.enum(["text", "number"]) })),
    rows: z.array(z.array(cell)),
    note: plain.nullable(),
    result: plain,
  }),
  z.object({
    kind: z.literal("picture"),
    id: plain,
    draws: z.enum(["rates", "over time", "survival", "comparisons"]),
    index: z.number(),
    finding: plain,
    result: plain,
  }),
]);
export const statementDocumentContract = z.object({
  title: plain,
  subtitle: plain,
  summary: z.array(inline),
  sections: z.array(z.object({ id: plain, title: plain, blocks: z.array(block) })),
  contentHash: plain,
  dataHash: plain,
  engineVersion: plain,
  marking: plain.nullable(),
});
export const statementProgress = z.object({ done: z.number(), of: z.number(), what: plain });
export const statementPreview = z.object({
  id: plain,
  definition: statementDefinition,
  contentHash: plain,
  document: statementDocumentContract,
});
const signed = z.object({ who: plain, when: plain });
export const statementEntry = z.object({
  statement: z.number(),
  version: z.number(),
  state: z.enum(["draft", "approved", "issued"]),
  title: plain,
  subtitle: plain,
  contentHash: plain,
  drafted: signed,
  approved: signed.nullable(),
  issued: signed.nullable(),
  definition: statementDefinition,
});
export const statementsReply = z.object({
  statements: z.array(statementEntry),
  wells: z.array(plain),
  incidents: z.array(z.object({ run: plain, serial: plain, on: plain, customer: plain.nullable() })),
});
export const statementDraftBody = z.object({
  definition: statementDefinition,
  statement: z.int().min(1).nullable().optional(),
  who: z.string().optional(),
});

true satisfies SameType<z.infer<typeof statementDefinition>, StatementDefinition>;
true satisfies SameType<z.infer<typeof statementDocumentContract>, StatementDocument>;
true satisfies SameType<z.infer<typeof statementProgress>, StatementProgress>;
true satisfies SameType<z.infer<typeof statementPreview>, StatementPreview>;
true satisfies SameType<z.infer<typeof statementsReply>, StatementsReply>;
