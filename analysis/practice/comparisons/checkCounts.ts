import { AnalysisError } from "../../errors.ts";

/** Errors  "bad-setting" for a value that is not a whole number from 0. */
export function checkCounts(setting: string, values: readonly number[]): void {
  const bad = values.find((value) => !(Number.isInteger(value) && value >= 0));
  if (bad !== undefined)
    throw new AnalysisError("bad-setting", { setting, value: String(bad), allowed: "whole, from 0" });
}
