import type { SinceComparison, SinceDecided, SinceRow } from "../study/sinceDecidedTypes.ts";
import { type SinceMeasure, saySinceName, saySinceVerdict } from "./saySinceDecided.ts";

interface SinceColumn {
  readonly title: string;
  readonly value: (row: SinceRow) => string | number | null;
}

/** What came of a decision as a file has it, all modes together first; hours at the same ages are summed over the modes. */
export const sinceColumns: readonly SinceColumn[] = [
  { title: "what", value: saySinceName },
  { title: "failures before", value: (row) => row.asTheyCame.before.failures },
  { title: "hours before", value: (row) => row.asTheyCame.before.hours },
  { title: "failures since", value: (row) => row.asTheyCame.after.failures },
  { title: "hours since", value: (row) => row.asTheyCame.after.hours },
  ...ofMeasure("asTheyCame", "as they came"),
  ...ofMeasure("sameAge", "at the same ages"),
];

export const sinceRows = (since: SinceDecided | null): readonly SinceRow[] =>
  since === null ? [] : [since.total, ...since.modes];

function ofMeasure(measure: SinceMeasure, name: string): readonly SinceColumn[] {
  const column = (what: string, of: (one: SinceComparison) => string | number | null): SinceColumn => ({
    title: `${what} ${name}`,
    value: (row) => of(row[measure]),
  });
  return [
    column("ratio", ({ ratio }) => ratio.value),
    column("ratio lower", ({ ratio }) => ratio.lower),
    column("ratio upper", ({ ratio }) => ratio.upper),
    column("failures expected at the rate before", ({ expectedAfter }) => expectedAfter),
    column("bounds", ({ ratio }) => ratio.method),
    column("p, allowing for all,", ({ adjustedPValue }) => adjustedPValue),
    column("shown", saySinceVerdict),
    column("scatter between tools over chance", ({ spread }) => spread?.factor ?? null),
    column("p of tools alike", ({ spread }) => spread?.pValue ?? null),
    column("variance by tool", ({ byTool }) => byTool?.inflation ?? null),
  ];
}
