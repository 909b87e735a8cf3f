import type { StudyDefinition } from "../study/types.ts";

const words: Readonly<Record<StudyDefinition["missingHours"], string>> = {
  "shop rate": "taken at the shop's hours a day",
  averaged: "taken anywhere in their range",
  "all low": "all taken as none",
  "all high": "all taken as 24 h a day",
  "left out": "lives with them left out",
};

/** What was done with hours that were not written down. */
export const sayMissingHours = (choice: StudyDefinition["missingHours"]): string => words[choice];
