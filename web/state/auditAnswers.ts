/** From doubts that were picked and a verdict to the answers that settle them. Pure. */
import { type FieldDescriptor, tableDescriptors } from "../../analysis/index.ts";
import type { Doubt, GivenAnswer } from "./auditRequests.ts";
import type { DoubtKind } from "./place.ts";
import { typedValue } from "./typedValue.ts";

export type Verdict = "accept" | "correct" | "exclude";

/** `typed` is what was written into the control; "proposed" takes for each cell what the audit proposes. */
export type Decision =
  | { readonly verdict: "accept" | "exclude" }
  | { readonly verdict: "correct"; readonly to: "proposed" }
  | { readonly verdict: "correct"; readonly to: "typed"; readonly typed: unknown };

/** Habits of whoever writes: they are asked about, and no single row is at fault. */
const habits: readonly DoubtKind["rule"][] = ["hours heaped", "other too often", "sound looks rarely written"];

/** What can be decided about a kind of doubt. */
export function verdictsOn({ rule, column }: DoubtKind): readonly Verdict[] {
  if (habits.includes(rule)) return ["accept"];
  return column === null ? ["accept", "exclude"] : ["accept", "correct", "exclude"];
}

export const fieldOf = ({ table, column }: DoubtKind): FieldDescriptor | null =>
  (tableDescriptors[table].fields as readonly FieldDescriptor[]).find(({ name }) => name === column) ?? null;

/** Whether the audit says for each of these cells what might have been meant. */
export const allProposed = (doubts: readonly Doubt[]): boolean =>
  doubts.length > 0 && doubts.every(({ column, proposes }) => column !== null && proposes !== null);

/** The answers, or what is still missing in words. */
export function answersTo(
  doubts: readonly Doubt[],
  decision: Decision | null,
  why: string,
): { readonly answers: readonly GivenAnswer[] } | { readonly missing: string } {
  if (doubts.length === 0) return { missing: "Tick the rows that you want to answer." };
  if (decision === null) return { missing: "Choose what is true of them." };
  if (decision.verdict === "correct" && decision.to === "typed") {
    const read = readTyped(doubts, decision.typed);
    if ("missing" in read) return read;
  }
  if (why.trim() === "") return { missing: "Say how you know." };
  return { answers: doubts.map((doubt) => answerTo(doubt, decision, why.trim())) };
}

function readTyped(
  doubts: readonly Doubt[],
  typed: unknown,
): { readonly value: unknown } | { readonly missing: string } {
  const [first] = doubts;
  const field = first === undefined ? null : fieldOf({ ...first, table: first.row.table });
  if (field === null || typed === null || typed === "") return { missing: "Write the right value." };
  const read = typedValue(field, typed);
  return "wrong" in read ? { missing: read.wrong } : read;
}

function answerTo(doubt: Doubt, decision: Decision, why: string): GivenAnswer {
  const { row, rule, column, value } = doubt;
  const about = { ...row, rule, why, verdict: decision.verdict };
  if (decision.verdict !== "correct")
    return decision.verdict === "exclude"
      ? { ...about, column: null, was: null, becomes: null }
      : { ...about, column, was: value, becomes: null };
  const read = decision.to === "proposed" ? { value: doubt.proposes } : readTyped([doubt], decision.typed);
  return { ...about, column, was: value, becomes: "value" in read ? read.value : null };
}
