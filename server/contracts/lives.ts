/** Contracts of derived lives (analysis/lives/types.ts). */
import type { HoursAccount, Life, LivesNotice, ToolEvent } from "../../analysis/index.ts";
import { rowRef } from "./records.ts";
import type { SameType } from "./sameType.ts";
import { z } from "./zod.ts";

export const age = z.union([z.number(), z.tuple([z.number(), z.number()])]);
export const lifeKind = z.enum(["exact", "right", "left", "interval"]);
export const lookMark = z.object({
  row: rowRef,
  on: z.string(),
  age,
  found: z.enum(["sound as written", "sound by scope", "failed", "spoilt"]),
  informative: z.boolean(),
});
export const runMark = z.object({ row: rowRef, outOn: z.string(), inOn: z.string().nullable(), from: age, to: age });
export const life = z.object({
  id: z.string(),
  toolType: z.string(),
  sizeIn: z.number().nullable(),
  serial: z.string(),
  item: z.string(),
  itemSerial: z.string().nullable(),
  mode: z.string(),
  since: z.string(),
  sinceOn: z.string(),
  kind: lifeKind,
  lower: age,
  upper: age.nullable(),
  entry: z.number(),
  rangeBecause: z.enum(["hours missing", "ended by another mode"]).nullable(),
  closedBy: z.enum(["failure", "look", "last run", "loss", "another mode"]),
  endedOn: z.string(),
  informative: z.boolean(),
  looks: z.array(lookMark),
  runs: z.array(runMark),
  rows: z.array(rowRef),
});
export const toolEvent = z.object({
  serial: z.string(),
  event: z.enum(["lost in hole", "tool failure, cause masked"]),
  on: z.string(),
  age,
  run: z.string(),
});
export const hoursAccount = z.object({
  total: age,
  used: age,
  unused: z.array(
    z.object({
      reason: z.enum([
        "run without build",
        "run of a tool not in the list",
        "duplicate",
        "overlaps another run",
        "after the cut-off",
        "hours kind differs",
      ]),
      hours: age,
      runs: z.int(),
    }),
  ),
});
export const livesNoticeCodes = [
  "run-duplicate",
  "run-hours-missing",
  "run-overlaps",
  "run-without-build",
  "run-hours-exceed-dates",
  "hour-seen-beyond-run",
  "tool-not-listed",
  "item-not-listed",
  "mode-not-listed",
  "look-after-cutoff",
  "look-without-build",
  "lost-cause-unknown",
  "tool-failure-no-item",
  "out-but-silent",
  "severity-missing",
  "cause-not-found",
  "item-in-two-tools",
] as const;

true satisfies SameType<z.infer<typeof life>, Life>;
true satisfies SameType<z.infer<typeof toolEvent>, ToolEvent>;
true satisfies SameType<z.infer<typeof hoursAccount>, HoursAccount>;
true satisfies SameType<(typeof livesNoticeCodes)[number], LivesNotice["code"]>;
