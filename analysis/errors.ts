/** Errors are codes with facts; `analysis/wording/sayError.ts` is the one place that words them. */
export type AnalysisErrorCode =
  | "unsupported-censoring"
  | "bad-life"
  | "no-lives"
  | "bad-setting"
  | "restoration-unanswered"
  | "tool-not-found"
  | "practice-not-found"
  | "bad-date"
  | "bad-mapping"
  | "unknown-unit"
  | "sheet-too-large"
  | "sheet-not-text"
  | "sheet-empty"
  | "too-many-columns"
  | "too-many-lines"
  | "cell-too-long"
  | "quote-not-closed"
  | "workbook-unpacks-too-large"
  | "workbook-damaged"
  | "workbook-not-readable"
  | "too-many-tabs"
  | "bad-reference-file"
  | "run-not-found"
  | "alias-missing";

export class AnalysisError extends Error {
  override readonly name = "AnalysisError";
  constructor(
    readonly code: AnalysisErrorCode,
    readonly facts: Readonly<Record<string, string | number | null>> = {},
  ) {
    super(`${code} ${JSON.stringify(facts)}`);
  }
}
