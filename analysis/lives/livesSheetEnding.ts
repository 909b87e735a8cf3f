import { normalisePhrase } from "../records/normalisePhrase.ts";

/** How a life ended, as a lives sheet says it. */
export type LivesSheetEnding = "failed at" | "failed before" | "failed between" | "still good at";

const phrases: Readonly<Record<LivesSheetEnding, readonly string[]>> = {
  "failed at": ["failed at", "failed", "failure", "broken"],
  "failed before": ["failed before", "found failed"],
  "failed between": ["failed between"],
  "still good at": [
    "still good at",
    "still good",
    "good",
    "still running",
    "running",
    "survived",
    "suspended",
    "censored",
  ],
};

/** The ending a phrase means, or null. Codes such as 0 and 1 mean nothing: sheets differ in which is the failure. */
export function livesSheetEnding(phrase: string): LivesSheetEnding | null {
  const normal = normalisePhrase(phrase);
  const endings: readonly LivesSheetEnding[] = ["failed at", "failed before", "failed between", "still good at"];
  return endings.find((ending) => phrases[ending].includes(normal)) ?? null;
}
