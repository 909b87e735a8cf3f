/** Contracts of a shop's setup as one file (analysis/study/setupApi.ts). */
import type { SetupBundle, SetupEntry, SetupReply } from "../../analysis/index.ts";
import { storedBatch } from "./api.ts";
import { formPreview } from "./forms.ts";
import { mapping, problem, vocabularies, vocabularyName } from "./records.ts";
import { rowContract } from "./rows.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

const parts = {
  afterrunSetup: z.literal(1).openapi({ description: "Says what file this is, and its version." }),
  words: vocabularies.optional(),
  mappings: z.array(mapping).max(2_000).optional(),
  tables: z
    .strictObject({
      tool_items: z.array(rowContract("tool_items")).optional(),
      modes: z.array(rowContract("modes")).optional(),
      compounds: z.array(rowContract("compounds")).optional(),
    })
    .optional(),
};
export const setupBundle = z.strictObject(parts).openapi({
  description: "Words, item list, modes, compounds and mappings; a part left out stays as it is.",
});
export const setupEntry = z.strictObject({
  ...parts,
  who: z.string().optional().openapi({ description: "Initials." }),
});
const meaning = z.union([z.string(), z.number(), z.boolean(), z.null()]);
export const setupReply = z.object({
  words: z.array(
    z.object({
      vocabulary: vocabularyName,
      phrase: z.string(),
      what: z.enum(["new", "changed"]),
      was: meaning,
      becomes: meaning,
    }),
  ),
  mappings: z.array(
    z.object({ fingerprint: z.string(), name: z.string(), what: z.enum(["new", "changed", "unchanged"]) }),
  ),
  rows: formPreview.shape.rows,
  problems: z.array(problem),
  ready: z.boolean(),
  stored: storedBatch.nullable().openapi({ description: "Null for a preview, and where nothing would change." }),
});

true satisfies SameType<z.infer<typeof setupBundle>, SetupBundle>;
true satisfies SameType<z.infer<typeof setupEntry>, SetupEntry>;
true satisfies SameType<z.infer<typeof setupReply>, SetupReply>;
