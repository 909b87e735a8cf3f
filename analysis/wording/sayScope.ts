import type { Scope } from "../study/types.ts";
import { formatPeriod } from "./formatDate.ts";
import { formatSize } from "./formatSize.ts";
import { countOf, sentenceCase } from "./inWords.ts";

/** The scope as a sentence: "Main seal, leak, 6 1/2 in, 2024–2026". Nothing narrowed: "All tools and items". */
export function sayScope(scope: Scope): string {
  const parts = [
    scope.item,
    scope.mode,
    scope.toolType,
    scope.sizeIn === null ? null : formatSize(scope.sizeIn),
    scope.serial,
    scope.serials === undefined ? null : countOf(scope.serials.length, "tool"),
    scope.customer === null ? null : `runs for ${scope.customer}`,
    scope.wells === undefined ? null : countOf(scope.wells.length, "well"),
    formatPeriod(scope.from, scope.to),
  ].filter((part) => part !== null);
  const narrowed = scope.item !== null || scope.serial !== null;
  if (parts.length === 0) return "All tools and items";
  return sentenceCase((narrowed ? parts : ["all items", ...parts]).join(", "));
}
