import type { StatementResult } from "../types.ts";

/** The fifteen misleading practices that a statement is checked for; common practice in the trade, no single source. */
export const misleadingPractices = [
  "mean time over mixed modes",
  "survivors left out",
  "points compared without bounds",
  "only tools that came back",
  "definition changed",
  "unlike tools pooled",
  "kinds of hours mixed",
  "calendar instead of exposure",
  "window picked",
  "beyond experience",
  "best of many",
  "planned redress of failed tools",
  "nothing found left out",
  "mean time read as a life",
  "worst stretch chosen",
] as const;
export type MisleadingPractice = (typeof misleadingPractices)[number];

export type GuardUnit = "per 1,000 h" | "h" | "%" | "a month" | "times" | "failures" | "p";

/** A number one way and the other. */
export interface GuardNumber {
  readonly value: number | null;
  readonly unit: GuardUnit;
}

export interface GuardFinding {
  readonly practice: MisleadingPractice;
  /** Put right: the statement says the honest number. Stays: the records cannot mend it, so it is said. */
  readonly state: "put right" | "stays";
  readonly misleading: GuardNumber;
  readonly honest: GuardNumber;
  readonly facts: Readonly<Record<string, string | number>>;
}

/** Finds one practice in a statement, or null where it is not there. */
export type Detector = (statement: StatementResult) => Omit<GuardFinding, "practice"> | null;
