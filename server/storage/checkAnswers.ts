import { applyAnswers, type FieldDescriptor, type RefusedBecause, tableDescriptors } from "../../analysis/index.ts";
import { isText, whyNotStorable } from "./checkStorable.ts";
import { placeOf } from "./compareRows.ts";
import { recordsOfRows } from "./correctionsOf.ts";
import { findRows } from "./readTables.ts";
import type { Sql } from "./sql.ts";
import { StorageError } from "./storageError.ts";
import type { Answer, AnswerGiven } from "./types.ts";

const longestReason = 2_000;

/**
 * Refuses answers that could not be applied to the rows as they stand: none of the lot is stored then.
 *
 * @param before  All answers given so far: a corrected cell may be corrected again.
 * Errors         "bad-answer" says which and why; "answer-outdated" where the row is gone or the cell says something
 *                else now than the answer was given on
 */
export async function checkAnswers(sql: Sql, given: readonly Answer[], before: readonly Answer[]): Promise<void> {
  refuseBad(given);
  const rows = await findRows(sql, given);
  const stored = new Set(rows.map(placeOf));
  const touched = before.filter((answer) => stored.has(placeOf(answer)));
  const { stale, refused } = applyAnswers(recordsOfRows(rows), [...touched, ...given]);
  for (const { answer, because } of refused)
    if (given.includes(answer)) refuse("bad-answer", given, answer, worded[because]);
  for (const answer of stale) {
    if (!given.includes(answer)) continue;
    const gone = !stored.has(placeOf(answer));
    refuse("answer-outdated", given, answer, gone ? "the row is not stored" : "its value is another one now");
  }
}

/** Refuses answers that fit no column or row whatever. Errors  "bad-answer" */
export function refuseBad(given: readonly Answer[]): void {
  if (given.length === 0) throw new StorageError("bad-answer", { number: 0, place: null, why: "there is none" });
  for (const answer of given) {
    const why = whyBad(answer);
    if (why !== null) refuse("bad-answer", given, answer, why);
  }
}

function refuse(code: "bad-answer" | "answer-outdated", given: readonly Answer[], answer: Answer, why: string): never {
  throw new StorageError(code, { number: given.indexOf(answer) + 1, place: placeName(answer), why });
}

const worded: Readonly<Record<RefusedBecause, string>> = {
  "no such column": "the table has no such column",
  "no column named": "a correction names one column",
  "key of the row": "the key of a row cannot be corrected; exclude the row and drop it with the right key",
  "does not fit the column": "the new value does not fit the column",
};

const placeName = ({ table, key, column }: AnswerGiven): string =>
  `${table} ${key}${column === null ? "" : `, ${column}`}`.slice(0, 200);

function whyBad({ table, key, column, was, becomes, verdict, why }: AnswerGiven): string | null {
  if (!Object.hasOwn(tableDescriptors, table)) return "there is no such table";
  if (why.trim() === "") return "it gives no reason";
  if (why.length > longestReason) return "its reason is longer than 2,000 characters";
  if (!isText(JSON.stringify([key, was, becomes])) || !isText(why) || !isText(key))
    return "it holds a character that is no text";
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const field = fields.find(({ name }) => name === column);
  return verdict === "correct" && field !== undefined && becomes !== null ? whyNotStorable(field, becomes) : null;
}
