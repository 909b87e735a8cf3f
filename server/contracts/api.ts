/** Contracts of what goes over HTTP (analysis/study/api.ts). */
import type {
  BatchReply,
  DropAnswers,
  DropPreview,
  DropProgress,
  ErrorReply,
  FilePreview,
  LivesReply,
  PastedSheet,
  RowsReply,
  StateReply,
  StoredBatch,
  StoredRow,
  UndoReply,
} from "../../analysis/index.ts";
import { tableNames } from "../../analysis/index.ts";
import { correction, undoPreview } from "./audit.ts";
import { life } from "./lives.ts";
import { confirmation, mapping, origin, problem, rowRef, tableName, vocabularies, wordList } from "./records.ts";
import { scopeChoices } from "./results.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const values = z.record(z.string(), z.unknown());

export const stateReply = z.object({
  engineVersion: z.string(),
  dataHash: z.string(),
  rows: z.record(z.enum(tableNames), z.int()),
  batches: z.int(),
  setAside: z.int(),
  sample: z.boolean(),
  openQuestions: z.array(z.string()),
  choices: scopeChoices,
});
export const livesReply = z.object({ total: z.int(), offset: z.int(), lives: z.array(life) });
export const storedRow = z.object({
  table: tableName,
  key: z.string(),
  values,
  asWritten: z.record(z.string(), z.string()),
  writtenUnder: z
    .record(z.string(), z.object({ header: z.string(), unit: z.string().nullable() }))
    .optional()
    .openapi({ description: "Header and unit on the sheet, by field." }),
  origin,
  batch: z.int(),
  corrections: z
    .array(correction)
    .optional()
    .openapi({ description: "What was decided about its cells, oldest first; absent where nobody decided anything." }),
});
export const rowsReply = z.object({
  rows: z.array(storedRow),
  missing: z.array(rowRef).openapi({ description: "Rows asked for that are not stored (any more)." }),
});
export const lineCounts = z
  .object({ lines: z.int(), new: z.int(), unchanged: z.int(), changed: z.int(), setAside: z.int() })
  .openapi({ description: "Lines of a sheet: lines = new + unchanged + changed + setAside." });
export const filePreview = z.object({
  file: z.string(),
  sheet: z.string().nullable(),
  bytes: z.int(),
  mapping,
  mappingIs: z.enum(["remembered", "proposed", "edited", "not understood"]),
  columns: z.array(
    z.object({
      header: z.string(),
      samples: z.array(z.string()),
      becomes: z.array(z.object({ table: tableName, field: z.string(), unit: z.string().nullable() })),
      why: z.string(),
    }),
  ),
  counts: lineCounts,
  rowsByTable: z.partialRecord(tableName, z.int()),
  problems: z.array(problem),
  changes: z.array(z.object({ row: rowRef, field: z.string(), was: z.unknown(), becomes: z.unknown(), origin })),
  gone: z.array(z.object({ row: rowRef, origin })),
  inAll: z.object({ problems: z.int(), changes: z.int() }).optional(),
});
export const dropProgress = z.object({
  id: z.string(),
  state: z.literal("reading"),
  stage: z.enum(["waiting", "reading", "mapping", "comparing"]),
  rows: z.int(),
  rowsInAll: z.int().nullable(),
  share: z.number().min(0).max(1),
});
export const pastedSheet = z.strictObject({ text: z.string().min(1), name: z.string().max(200).optional() });
const setup = z.array(z.object({ table: tableName, values, why: z.string() }));
export const dropPreview = z.object({
  id: z.string(),
  files: z.array(filePreview),
  words: wordList,
  confirmations: z.array(confirmation),
  setup,
  linkProblems: z.array(problem),
  linkProblemsInAll: z
    .int()
    .optional()
    .openapi({ description: "Where only the first are listed: how many there are." }),
  counts: lineCounts,
  ready: z.boolean(),
});
export const dropAnswers = z.strictObject({
  confirm: z.array(z.string()).optional(),
  mappings: z.record(z.string(), mapping).optional(),
  words: vocabularies.optional(),
  setup: setup.optional(),
});
export const storedBatch = z.object({
  batch: z.int(),
  storedAt: z.string(),
  who: z.string(),
  why: z.string().optional().openapi({ description: "What was said for it, where somebody said something." }),
  files: z.array(z.object({ file: z.string(), sha256: z.string(), bytes: z.int(), counts: lineCounts })),
  counts: lineCounts,
  dataHash: z.string(),
  undoes: z.int().optional().openapi({ description: "Present where this batch takes another one back." }),
});
export const undoReply = undoPreview.extend({
  stored: storedBatch.nullable().openapi({ description: "Null for a preview." }),
});
export const batchReply = storedBatch.extend({
  problems: z.array(problem),
  setAsideLines: z.array(z.object({ origin, cells: z.array(z.string()), problems: z.array(problem) })),
});
export const errorReply = z.object({ error: z.object({ code: z.string(), message: z.string(), facts: values }) });

true satisfies SameType<z.infer<typeof stateReply>, StateReply>;
true satisfies SameType<z.infer<typeof livesReply>, LivesReply>;
true satisfies SameType<z.infer<typeof storedRow>, StoredRow>;
true satisfies SameType<z.infer<typeof rowsReply>, RowsReply>;
true satisfies SameType<z.infer<typeof filePreview>, FilePreview>;
true satisfies SameType<z.infer<typeof dropProgress>, DropProgress>;
true satisfies SameType<z.infer<typeof pastedSheet>, PastedSheet>;
true satisfies SameType<z.infer<typeof dropPreview>, DropPreview>;
true satisfies SameType<z.infer<typeof dropAnswers>, DropAnswers>;
true satisfies SameType<z.infer<typeof storedBatch>, StoredBatch>;
true satisfies SameType<z.infer<typeof undoReply>, UndoReply>;
true satisfies SameType<z.infer<typeof batchReply>, BatchReply>;
true satisfies SameType<z.infer<typeof errorReply>, ErrorReply>;
