/** Contracts of audit, answers and undo (analysis/study/recordsApi.ts). */
import {
  type Answer,
  type AnswersListReply,
  type AnswersPreview,
  type AnswersReply,
  type AuditAnswers,
  type AuditReply,
  type AuditRow,
  type AuditRowsReply,
  auditRules,
  type CellStep,
  type Correction,
  type RowHistoryReply,
  type UndoPreview,
} from "../../analysis/index.ts";
import { origin, rowRef, tableName } from "./records.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

export const auditRule = z.enum(auditRules);
const given = {
  table: tableName,
  key: z.string().max(1_000).openapi({ description: "Key of the row: the JSON array of its key fields." }),
  column: z.string().nullable().openapi({ description: "Null: the row as a whole." }),
  was: z.unknown().openapi({ description: "The value it was decided on; of a row as a whole its values, or null." }),
  becomes: z.unknown().openapi({ description: 'For "correct" the value to use instead.' }),
  verdict: z.enum(["accept", "correct", "exclude", "reopen"]),
  rule: auditRule.nullable(),
  why: z.string().min(1).max(2_000),
};
export const answer = z.object({ ...given, who: z.string(), when: z.string() });
export const auditAnswers = z.strictObject({
  who: z.string().optional().openapi({ description: "Initials of who decides." }),
  answers: z.array(z.strictObject(given)).min(1).max(20_000),
});

const state = z.enum(["applied", "stale", "superseded", "refused"]);
export const answerState = z.object({ answer, state });
export const correction = z.object({ answer, state, column: z.string().nullable(), sheetValue: z.unknown() });
const cellStep = z.object({
  field: z.string().nullable().openapi({ description: "Null: the row as a whole." }),
  row: z
    .enum(["brought in", "brought back", "taken out"])
    .optional()
    .openapi({ description: "Present where the row came or went." }),
  was: z.unknown(),
  becomes: z.unknown(),
  by: z.union([
    z.object({ kind: z.literal("drop"), batch: z.int(), origin: origin.nullable() }),
    z.object({ kind: z.literal("undo"), batch: z.int(), undoes: z.int(), origin: origin.nullable() }),
    z.object({
      kind: z.literal("answer"),
      verdict: z.enum(["accept", "correct", "exclude", "reopen"]),
      rule: auditRule.nullable(),
      state,
    }),
  ]),
  who: z.string(),
  when: z.string(),
  why: z.string().nullable(),
});
export const rowHistoryReply = z.object({ row: rowRef, field: z.string().nullable(), steps: z.array(cellStep) });
export const auditRow = z.object({
  id: z.string(),
  rule: auditRule,
  row: rowRef,
  column: z.string().nullable(),
  value: z.unknown(),
  others: z.array(rowRef),
  facts: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
  proposes: z.unknown(),
});
export const auditReply = z.object({
  dataHash: z.string(),
  open: z.boolean().openapi({ description: "Whether anything is doubted and not answered." }),
  total: z.int(),
  lives: z.object({ touched: z.int(), total: z.int() }).nullable(),
  groups: z.array(
    z.object({
      rule: auditRule,
      table: tableName,
      column: z.string().nullable(),
      count: z.int(),
      lives: z
        .int()
        .nullable()
        .openapi({ description: "Lives that rest on its rows; null while none can be derived." }),
      livesSoFar: z
        .int()
        .nullable()
        .openapi({ description: "Lives that rest on rows of this group or of one before it." }),
    }),
  ),
  stale: z.array(answer),
  answers: z.int(),
});
export const auditRowsReply = z.object({
  dataHash: z.string(),
  total: z.int(),
  offset: z.int(),
  rows: z.array(auditRow.extend({ lives: z.int().nullable() })),
});
export const answersReply = z.object({ stored: z.int(), dataHash: z.string(), answers: z.array(answerState) });
export const answersPreview = z.object({
  dataHash: z.string(),
  cells: z.int().openapi({ description: "Cells that get another value." }),
  rowsLeftOut: z.int(),
  doubts: z.object({ before: z.int(), after: z.int() }),
  lives: z
    .object({ changed: z.int(), gone: z.int(), added: z.int(), total: z.int() })
    .nullable()
    .openapi({ description: "Lives that come out otherwise; null while none can be derived." }),
  notApplied: z.int().openapi({ description: "Answers that would be refused." }),
  hanging: z.int().openapi({ description: "Rows that belong to a row left out." }),
});
export const answersListReply = z.object({ total: z.int(), offset: z.int(), answers: z.array(answerState) });

export const undoPreview = z.object({
  undoes: z.int(),
  removed: z.int(),
  restored: z.int(),
  returned: z.int(),
  kept: z.int().openapi({ description: "Rows that a later batch changed: they stay." }),
  rows: z.array(
    rowRef.extend({
      what: z.enum(["removed", "restored", "returned"]),
      cells: z.array(z.object({ field: z.string(), was: z.unknown(), becomes: z.unknown() })),
    }),
  ),
  keptRows: z.array(rowRef.extend({ changedBy: z.int() })),
});

true satisfies SameType<z.infer<typeof answer>, Answer>;
true satisfies SameType<z.infer<typeof auditAnswers>, AuditAnswers>;
true satisfies SameType<z.infer<typeof correction>, Correction>;
true satisfies SameType<z.infer<typeof auditRow>, AuditRow>;
true satisfies SameType<z.infer<typeof auditReply>, AuditReply>;
true satisfies SameType<z.infer<typeof auditRowsReply>, AuditRowsReply>;
true satisfies SameType<z.infer<typeof answersReply>, AnswersReply>;
true satisfies SameType<z.infer<typeof answersPreview>, AnswersPreview>;
true satisfies SameType<z.infer<typeof answersListReply>, AnswersListReply>;
true satisfies SameType<z.infer<typeof undoPreview>, UndoPreview>;
true satisfies SameType<z.infer<typeof cellStep>, CellStep>;
true satisfies SameType<z.infer<typeof rowHistoryReply>, RowHistoryReply>;
