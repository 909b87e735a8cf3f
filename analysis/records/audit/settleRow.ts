import { sameValue, sameValues } from "../sameValues.ts";
import type { Answer } from "./types.ts";

export type AnswerFate = "applied" | "superseded" | "stale";

interface Cell {
  readonly value: unknown;
  readonly standing: readonly Answer[];
}

/**
 * What the answers about one row make of it.
 *
 * @param row      As the sheet has it; not changed.
 * @param answers  About this row, in order of time, already held against the descriptor.
 * @returns        The row with its corrections, the answer that excludes it if one stands, and what became of each answer.
 */
export function settleRow<R extends object>(
  row: R,
  answers: readonly Answer[],
): { readonly row: R; readonly excludedBy: Answer | null; readonly fates: ReadonlyMap<Answer, AnswerFate> } {
  const values = valuesOf(row);
  const cells = new Map<string | null, Cell>();
  const fates = new Map<Answer, AnswerFate>();
  for (const answer of answers) {
    const { column, was, verdict, becomes } = answer;
    const sheet = column === null ? values : (values[column] ?? null);
    const { value, standing } = cells.get(column) ?? { value: sheet, standing: [] };
    const fitsNow = isSame(column, was, value);
    if (!fitsNow && !isSame(column, was, sheet)) {
      fates.set(answer, "stale");
      continue;
    }
    fates.set(answer, "applied");
    // A corrected value that is accepted stays corrected, and doubts of two rules are accepted one by one: all stand.
    if (verdict === "accept" && fitsNow && standing.some((earlier) => standsBeside(earlier, answer))) {
      cells.set(column, { value, standing: [...standing, answer] });
      continue;
    }
    for (const earlier of standing) fates.set(earlier, "superseded");
    cells.set(column, { value: verdict === "correct" ? becomes : sheet, standing: [answer] });
  }
  const corrected = [...cells].filter(([, { standing }]) => standing.some(({ verdict }) => verdict === "correct"));
  const excludedBy = [...cells.values()]
    .flatMap(({ standing }) => standing)
    .find(({ verdict }) => verdict === "exclude");
  return {
    row:
      corrected.length === 0
        ? row
        : { ...row, ...Object.fromEntries(corrected.map(([name, { value }]) => [name, value])) },
    excludedBy: excludedBy ?? null,
    fates,
  };
}

const standsBeside = (earlier: Answer, accepted: Answer): boolean =>
  earlier.verdict === "correct" || (earlier.verdict === "accept" && earlier.rule !== accepted.rule);

/** Whether what an answer was given on is still so; of a whole row null stands for whatever it says. */
export function isSame(column: string | null, was: unknown, value: unknown): boolean {
  if (column !== null) return sameValue(was, value);
  return was == null || (isValues(was) && isValues(value) && sameValues(was, value) === null);
}

/** A row as its values by column. */
export const valuesOf = (row: object): Readonly<Record<string, unknown>> => Object.fromEntries(Object.entries(row));

const isValues = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
