import { giveMappingVersions, giveWordsVersion } from "./giveVersions.ts";
import type { BatchContent, JournaledBatch } from "./journalEntry.ts";
import { newestMappings, newestWords } from "./readTables.ts";
import { jsonRows, type Sql } from "./sql.ts";
import type { BatchInput } from "./store.ts";

type NumberedContent = BatchContent & { readonly linkProblems: NonNullable<BatchInput["linkProblems"]> };

/** The number of the next batch. */
export async function nextBatch(sql: Sql): Promise<number> {
  const [newest] = await jsonRows<number>(sql, "select to_json(coalesce(max(batch), 0)) as row from batches");
  return (newest ?? 0) + 1;
}

/** What is stored of a drop, with the numbers that the store gives. */
export async function contentOf(
  sql: Sql,
  { who, why, sheets, words, remember = [], setup, linkProblems = [] }: BatchInput,
  when: string,
  files: BatchContent["files"],
): Promise<NumberedContent> {
  const ordinary = sheets.filter(({ exported }) => exported !== true).map(({ mapping }) => mapping);
  const numbered = giveMappingVersions(await newestMappings(sql), [...ordinary, ...remember]);
  let given = 0;
  return {
    batch: await nextBatch(sql),
    who,
    when,
    ...(why === undefined ? {} : { why }),
    files,
    sheets: sheets.map((sheet) =>
      sheet.exported === true ? sheet : { ...sheet, mapping: numbered[given++] ?? sheet.mapping },
    ),
    words: giveWordsVersion(await newestWords(sql), words),
    setup,
    linkProblems,
    ...(remember.length > 0 ? { remember: numbered.slice(ordinary.length) } : {}),
  };
}

export function entryOf({ sheets, ...rest }: NumberedContent, dataHash: string): JournaledBatch {
  return {
    kind: "batch",
    ...(rest.why === undefined ? {} : { version: 2 as const }),
    ...rest,
    sheets: sheets.map(({ mapped, mapping, exported }) => ({
      file: mapped.file,
      sheet: mapped.sheet,
      mapping,
      ...(exported === true ? { exported } : {}),
    })),
    dataHash,
  };
}
