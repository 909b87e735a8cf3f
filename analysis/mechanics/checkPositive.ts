import { AnalysisError } from "../errors.ts";

/** Errors  "bad-setting" naming the first value that is not a finite number above 0. */
export function checkPositive(values: Readonly<Record<string, number>>): void {
  for (const [setting, value] of Object.entries(values)) {
    if (!(value > 0 && Number.isFinite(value)))
      throw new AnalysisError("bad-setting", { setting, value: String(value), allowed: "a number above 0" });
  }
}
