import { z } from "../contracts/zod.ts";

/** Which sheet's lines: the file, and the tab where it is a workbook. */
export const setAsideQuery = z.strictObject({
  file: z.string("text").min(1, "text").max(200, "text"),
  tab: z.string("text").min(1, "text").max(200, "text").optional(),
});
