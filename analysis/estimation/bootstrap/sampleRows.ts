import { AnalysisError } from "../../errors.ts";
import type { LifeSample } from "../types.ts";
import { weightedSample } from "./weightedSample.ts";

/** The lives that a rule keeps; null where it keeps none. */
export function sampleRows(sample: LifeSample, keep: (row: number) => boolean): LifeSample | null {
  const kept = weightedSample(
    sample,
    sample.count.map((count, row) => (keep(row) ? count : 0)),
  );
  return kept.n > 0 ? kept : null;
}

/** Refuses a list that has not one entry a life with "bad-setting". */
export function checkOneEach(setting: string, list: { readonly length: number }, sample: LifeSample): void {
  if (list.length !== sample.n) {
    throw new AnalysisError("bad-setting", { setting, value: list.length, lives: sample.n });
  }
}
