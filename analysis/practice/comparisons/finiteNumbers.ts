import { AnalysisError } from "../../errors.ts";

/** Errors  "bad-setting" for fewer than `least` values or one that is not a finite number. */
export function finiteNumbers(setting: string, values: readonly number[], least: number): void {
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new AnalysisError("bad-setting", {
      setting: `${setting}, value ${bad + 1}`,
      value: String(values[bad]),
      allowed: "a finite number",
    });
  }
  if (values.length < least)
    throw new AnalysisError("bad-setting", { setting, value: values.length, allowed: `${least} or more values` });
}
