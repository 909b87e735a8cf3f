import { insertRows } from "./insertRows.ts";
import { dataHashOf, newestMappings, type StoreContent } from "./readTables.ts";
import { jsonRows, type Sql } from "./sql.ts";
import type { Answer, TableName } from "./types.ts";

interface RawAnswer extends Omit<Answer, "table" | "when"> {
  readonly table_name: TableName;
  readonly decided_at: string;
}

/** All answers, in the order decided. */
export async function readAnswers(sql: Sql): Promise<readonly Answer[]> {
  const raw = await jsonRows<RawAnswer>(sql, "select row_to_json(t) as row from answers t order by answer");
  return raw.map(({ table_name: table, key, column, was, becomes, verdict, rule, who, decided_at: when, why }) => ({
    table,
    key,
    column,
    was,
    becomes,
    verdict,
    rule,
    who,
    when,
    why,
  }));
}

/** Writes answers into the tables, in the caller's transaction. The rows they are about stay as the sheets say. */
export async function storeAnswers(
  sql: Sql,
  given: readonly Answer[],
  now: StoreContent,
): Promise<{ readonly dataHash: string; readonly content: StoreContent }> {
  await insertRows(
    sql,
    "answers",
    {
      answer: "integer",
      table_name: "text",
      key: "text",
      column: "text",
      was: "json",
      becomes: "json",
      verdict: "text",
      rule: "text",
      who: "text",
      decided_at: "text",
      why: "text",
    },
    given,
    ({ table, when, ...answer }, index) => ({
      ...answer,
      answer: now.answers.length + index + 1,
      table_name: table,
      decided_at: when,
    }),
  );
  const content = { ...now, answers: [...now.answers, ...given] };
  return { dataHash: dataHashOf(content, await newestMappings(sql)), content };
}
