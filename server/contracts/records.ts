/** Contracts of mappings, words, problems and rows (analysis/records/mapping.ts). */
import {
  type AddedRows,
  type ColumnRule,
  type Confirmation,
  type Mapping,
  type Origin,
  type Problem,
  type RowRef,
  type SheetFormat,
  type TableMapping,
  tableNames,
  type WordList,
} from "../../analysis/index.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

export const tableName = z.enum(tableNames);
export const rowRef = z.object({ table: tableName, key: z.string() });
export const origin = z.object({ file: z.string(), sheet: z.string().nullable(), line: z.int() });

const dateOrder = z.enum(["ymd", "dmy", "mdy"]);
export const sheetFormat = z.strictObject({
  encoding: z.enum(["utf-8", "windows-1252", "utf-16le"]),
  delimiter: z.enum([",", ";", "\t", "|"]),
  decimal: z.enum([".", ","]),
  skipLines: z.int().min(0),
  headerLines: z.literal(2).optional(),
  fillDown: z.array(z.string()).optional(),
  comment: z.string().nullable(),
  dateOrder: z.record(z.string(), dateOrder),
});

export const vocabularyName = z.enum([
  "conditions",
  "items",
  "redress reasons",
  "pulled because",
  "teardown why",
  "teardown kind",
  "tool status",
  "hours kind",
  "pressure test",
  "yes or no",
  "severity",
]);
const common = { unit: z.string().optional(), words: vocabularyName.optional() };
const scalar = z.union([z.string(), z.number(), z.boolean()]);
export const columnRule = z.union([
  z.strictObject({ ...common, from: z.string() }),
  z.strictObject({ ...common, constant: z.union([scalar, z.array(z.string()), z.null()]) }),
  z.strictObject({
    ...common,
    pattern: z.string(),
    of: z.string(),
    becomes: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
  }),
  z.strictObject({ ...common, split: z.string(), separator: z.string(), index: z.int() }),
  z.strictObject({ ...common, join: z.array(z.string()), separator: z.string() }),
]);

const rules = z.record(z.string(), columnRule);
const tableMappingShape = {
  table: tableName,
  columns: rules,
  members: z.array(rules).optional(),
  list: z.strictObject({ from: z.string(), separator: z.string(), field: z.string() }).optional(),
  unlessBlank: z.array(z.string()).optional(),
  repeated: z.literal(true).optional(),
};
export const tableMapping = z.strictObject(tableMappingShape);
export const addedRows = z.strictObject({
  ...tableMappingShape,
  question: z.string(),
  statement: z.string(),
  answered: z.boolean(),
});
export const mapping = z.strictObject({
  name: z.string(),
  version: z.int(),
  fingerprint: z.string(),
  format: sheetFormat,
  tables: z.array(tableMapping),
  addRows: z.array(addedRows),
});

const vocabulary = z.record(z.string(), z.union([scalar, z.null()]));
export const vocabularies = z.partialRecord(vocabularyName, vocabulary);
export const wordList = z.object({ version: z.int(), vocabularies });

const facts = z.record(z.string(), z.union([z.string(), z.number(), z.null()]));
export const problem = z.object({
  code: z.enum([
    "missing-required",
    "not-a-number",
    "not-a-date",
    "ambiguous-date",
    "impossible-date",
    "unknown-unit",
    "word-not-known",
    "not-yes-or-no",
    "below-minimum",
    "pattern-did-not-match",
    "repeated-row-differs",
    "repeated-key",
    "row-too-long",
    "row-too-short",
    "no-such-column",
    "link-not-found",
    "date-order-assumed",
    "cell-error",
    "formula-without-value",
    "tab-hidden",
    "tab-empty",
  ]),
  severity: z.enum(["error", "notice"]),
  origin,
  column: z.string().nullable(),
  value: z.string().nullable(),
  facts,
});
export const confirmation = z.object({
  id: z.string(),
  kind: z.enum(["columns", "date order", "unit", "words", "added rows", "items", "modes", "tools", "gone"]),
  question: z.string(),
  why: z.string(),
  proposed: z.string(),
  answered: z.boolean(),
  about: z
    .object({ fingerprint: z.string(), headers: z.array(z.string()) })
    .optional()
    .openapi({ description: "The shape of sheet asked about, and the headers concerned." }),
  words: z
    .array(
      z.object({
        vocabulary: vocabularyName,
        phrase: z.string(),
        means: z.union([scalar, z.null()]),
        times: z.int(),
        like: z.string().nullable(),
      }),
    )
    .optional()
    .openapi({ description: "Of words: every phrase asked about, with the known phrase it is nearest to." }),
});

true satisfies SameType<z.infer<typeof rowRef>, RowRef>;
true satisfies SameType<z.infer<typeof origin>, Origin>;
true satisfies SameType<z.infer<typeof sheetFormat>, SheetFormat>;
true satisfies SameType<z.infer<typeof columnRule>, ColumnRule>;
true satisfies SameType<z.infer<typeof tableMapping>, TableMapping>;
true satisfies SameType<z.infer<typeof addedRows>, AddedRows>;
true satisfies SameType<z.infer<typeof mapping>, Mapping>;
true satisfies SameType<z.infer<typeof wordList>, WordList>;
true satisfies SameType<z.infer<typeof problem>, Problem>;
true satisfies SameType<z.infer<typeof confirmation>, Confirmation>;
