import {
  type SinceDecided,
  type SinceMeasure,
  type SinceRow,
  saySinceMark,
  saySinceName,
} from "../../analysis/index.ts";
import type { RatioRow } from "./comparisonsLayout.ts";

/** What came of a decision as rows of `ComparisonsChart`: all modes together both ways, then each mode at the same ages. */
export function sinceChartRows({ total, modes }: SinceDecided): readonly RatioRow[] {
  return [
    row(total, "asTheyCame", "As they came"),
    row(total, "sameAge", "At the same ages"),
    ...modes.map((one) => row(one, "sameAge", saySinceName(one))),
  ];
}

const row = (one: SinceRow, measure: SinceMeasure, name: string): RatioRow => ({
  name,
  ratio: one[measure].ratio,
  shown: one[measure].verdict === "fewer" || one[measure].verdict === "more",
  label: saySinceMark(one, measure),
});
