import { breather } from "./breather.ts";
import { canonicalJson } from "./canonicalJson.ts";
import { checkStorable } from "./checkStorable.ts";
import { type ComparedRows, compareRows, placeOf, placesOf, sumOfCounts } from "./compareRows.ts";
import { insertRows } from "./insertRows.ts";
import type { BatchContent } from "./journalEntry.ts";
import { dataHashOf, findRows, loadTables, newestMappings, type StoreContent } from "./readTables.ts";
import { keepHistory, type RowVersion } from "./rowHistory.ts";
import type { Sql } from "./sql.ts";
import type { LineCounts, Problem, StoredBatch } from "./types.ts";
import { writeRows } from "./writeRows.ts";

export interface AppliedBatch {
  readonly stored: StoredBatch;
  /** All data after the batch. */
  readonly content: StoreContent;
}

/** A batch beside the rows that are stored: what it will write. */
export interface BatchPlan {
  readonly content: BatchContent;
  readonly before: ReadonlyMap<string, RowVersion>;
  readonly compared: ComparedRows;
}

/**
 * Compares a batch with the tables and checks that they can hold it, without writing. Nothing may be written between
 * this and `applyBatch`.
 *
 * Errors  "row-not-storable"
 */
export async function planBatch(sql: Sql, content: BatchContent): Promise<BatchPlan> {
  const before = new Map<string, RowVersion>();
  for (const row of await findRows(sql, placesOf(content))) before.set(placeOf(row), row);
  const compared = await compareRows(before, content);
  const breathe = breather();
  for (const row of compared.writes) {
    checkStorable(row);
    const due = breathe();
    if (due !== undefined) await due;
  }
  return { content, before, compared };
}

/**
 * Writes one batch into the tables, in the caller's transaction. The same content on the same tables gives the same
 * tables: storing, catching up and rebuilding all come through here.
 *
 * @param now  The data before the batch; only tables that the batch touches are read again.
 */
export async function applyBatch(
  sql: Sql,
  { content, before, compared }: BatchPlan,
  now: StoreContent,
): Promise<AppliedBatch> {
  const counts = compared.comparison.counts;
  const files = content.files.map((file) => ({
    ...file,
    counts: sumOfCounts(
      compared.comparison.sheets.filter((sheet) => sheet.file === file.file).map((sheet) => sheet.counts),
    ),
  }));
  await insertRows(sql, "batches", batchColumns, [content], ({ batch, when, who, why = null, words }) => ({
    batch,
    stored_at: when,
    who,
    why,
    words_version: words.version,
    data_hash: "",
    ...countColumns(counts),
  }));
  await insertRows(sql, "source_files", fileColumns, files, ({ file, sha256, bytes, counts: own }, position) => ({
    batch: content.batch,
    position,
    file,
    sha256,
    bytes,
    ...countColumns(own),
  }));
  await insertSheets(sql, content, compared.problems);
  const { batch } = content;
  await keepHistory(
    sql,
    batch,
    compared.writes.flatMap(({ table, key }) => {
      const was = before.get(placeOf({ table, key }));
      return was === undefined ? [] : [{ table, key, was, becameBatch: batch }];
    }),
  );
  const touched = await writeRows(
    sql,
    compared.writes.map((row) => ({ ...row, batch })),
  );

  const after = { ...now, tables: new Map([...now.tables, ...(await loadTables(sql, touched))]) };
  const dataHash = dataHashOf(after, await newestMappings(sql));
  await sql.query("update batches set data_hash = $2 where batch = $1", [batch, dataHash]);
  const said = content.why === undefined ? {} : { why: content.why };
  const stored = { batch, storedAt: content.when, who: content.who, ...said, files, counts, dataHash };
  return { stored, content: after };
}

/** Lines set aside, problems, mappings, words and confirmed rows of a batch. */
async function insertSheets(sql: Sql, content: BatchContent, more: readonly Problem[]): Promise<void> {
  const { batch, sheets, words, setup, linkProblems = [], remember = [] } = content;
  const placeOfLine = (file: string, sheet: string | null, line: number) => JSON.stringify([file, sheet, line]);
  const aside = sheets.flatMap(({ mapped }) =>
    mapped.setAside.map((line) => ({ ...line, file: mapped.file, sheet: mapped.sheet })),
  );
  const asideAt = new Map(aside.map(({ file, sheet, line }, position) => [placeOfLine(file, sheet, line), position]));
  const positionOf = ({ origin }: Problem) => asideAt.get(placeOfLine(origin.file, origin.sheet, origin.line)) ?? null;
  // A sheet's problems include those of its lines set aside; each is kept once.
  const all = [
    ...sheets.flatMap(({ mapped }) => [...mapped.problems, ...mapped.setAside.flatMap((line) => line.problems)]),
    ...linkProblems,
    ...more,
  ];
  const known = new Map<string, Problem>();
  const breathe = breather();
  for (const problem of all) {
    known.set(canonicalJson(problem), problem);
    const due = breathe();
    if (due !== undefined) await due;
  }
  const problems = [...known.values()];
  await insertRows(
    sql,
    "set_aside",
    { batch: "integer", position: "integer", file: "text", sheet: "text", line: "integer", cells: "json" },
    aside,
    ({ file, sheet, line, cells }, position) => ({ batch, position, file, sheet, line, cells }),
  );
  await insertRows(sql, "problems", problemColumns, problems, (problem, position) => ({
    ...problem,
    ...problem.origin,
    batch,
    position,
    set_aside: positionOf(problem),
  }));
  await insertRows(
    sql,
    "mappings",
    { fingerprint: "text", version: "integer", batch: "integer", mapping: "json" },
    [...sheets.filter(({ exported }) => exported !== true).map(({ mapping }) => mapping), ...remember],
    (mapping) => ({ fingerprint: mapping.fingerprint, version: mapping.version, batch, mapping }),
  );
  const wordColumns = { version: "integer", batch: "integer", words: "json" } as const;
  await insertRows(sql, "word_lists", wordColumns, [words], ({ version }) => ({ version, batch, words }));
  await insertRows(
    sql,
    "setup_rows",
    { batch: "integer", position: "integer", table_name: "text", values: "json", why: "text" },
    setup,
    ({ table, values, why }, position) => ({ batch, position, table_name: table, values, why }),
  );
}

function countColumns({ lines, new: fresh, unchanged, changed, setAside }: LineCounts) {
  return { lines, new: fresh, unchanged, changed, set_aside: setAside };
}

const counted = {
  lines: "integer",
  new: "integer",
  unchanged: "integer",
  changed: "integer",
  set_aside: "integer",
} as const;
const batchColumns = {
  batch: "integer",
  stored_at: "text",
  who: "text",
  words_version: "integer",
  data_hash: "text",
  why: "text",
  ...counted,
} as const;
const fileColumns = {
  batch: "integer",
  position: "integer",
  file: "text",
  sha256: "text",
  bytes: "bigint",
  ...counted,
} as const;
const problemColumns = {
  batch: "integer",
  position: "integer",
  set_aside: "integer",
  code: "text",
  severity: "text",
  file: "text",
  sheet: "text",
  line: "integer",
  column: "text",
  value: "text",
  facts: "json",
} as const;
