/** Contracts of forms (analysis/study/recordsApi.ts). */
import type { FormEntry, FormPreview } from "../../analysis/index.ts";
import { problem, rowRef, tableName } from "./records.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const formEntry = z.strictObject({
  table: tableName,
  values: z.record(z.string().max(100), z.unknown()).openapi({
    description: "Values by field, in canonical units. Left out keeps what is stored; null empties it.",
  }),
});
const rows = z.array(formEntry).min(1).max(500);
export const formPreviewBody = z.strictObject({ rows });
export const formBody = z.strictObject({
  rows,
  who: z.string().optional().openapi({ description: "Initials." }),
  why: z.string().trim().max(500).optional().openapi({ description: "Why it is written or changed; kept with it." }),
});
export const formPreview = z.object({
  rows: z.array(
    z.object({
      row: rowRef,
      what: z.enum(["new", "changed", "unchanged"]),
      cells: z.array(z.object({ field: z.string(), was: z.unknown(), becomes: z.unknown() })),
    }),
  ),
  problems: z.array(problem),
  ready: z.boolean(),
});

true satisfies SameType<z.infer<typeof formEntry>, FormEntry>;
true satisfies SameType<z.infer<typeof formPreview>, FormPreview>;
