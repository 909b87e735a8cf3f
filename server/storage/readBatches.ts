import { jsonRows, type Sql } from "./sql.ts";
import type { SetAsideLine } from "./store.ts";
import type { LineCounts, Problem, StoredBatch } from "./types.ts";

interface RawCounts {
  readonly lines: number;
  readonly new: number;
  readonly unchanged: number;
  readonly changed: number;
  readonly set_aside: number;
}
interface RawBatch extends RawCounts {
  readonly batch: number;
  readonly stored_at: string;
  readonly who: string;
  readonly data_hash: string;
  readonly undoes: number | null;
  readonly why: string | null;
}
interface RawFile extends RawCounts {
  readonly batch: number;
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
}
interface RawAside {
  readonly position: number;
  readonly file: string;
  readonly sheet: string | null;
  readonly line: number;
  readonly cells: readonly string[];
}
interface RawProblem extends Omit<Problem, "origin"> {
  readonly set_aside: number | null;
  readonly file: string;
  readonly sheet: string | null;
  readonly line: number;
}

/** All batches, oldest first. */
export async function readBatches(sql: Sql): Promise<readonly StoredBatch[]> {
  const batches = await jsonRows<RawBatch>(sql, "select row_to_json(t) as row from batches t order by batch");
  const files = await jsonRows<RawFile>(
    sql,
    "select row_to_json(t) as row from source_files t order by batch, position",
  );
  const filesOf = new Map<number, StoredBatch["files"][number][]>();
  for (const raw of files) {
    const file = { file: raw.file, sha256: raw.sha256, bytes: raw.bytes, counts: countsOf(raw) };
    filesOf.set(raw.batch, [...(filesOf.get(raw.batch) ?? []), file]);
  }
  return batches.map((raw) => ({
    batch: raw.batch,
    storedAt: raw.stored_at,
    who: raw.who,
    ...(raw.why === null ? {} : { why: raw.why }),
    files: filesOf.get(raw.batch) ?? [],
    counts: countsOf(raw),
    dataHash: raw.data_hash,
    ...(raw.undoes === null ? {} : { undoes: raw.undoes }),
  }));
}

/** The lines of a batch that were not stored, in order of sheet and line, each with its problems. */
export async function readSetAside(sql: Sql, batch: number): Promise<readonly SetAsideLine[]> {
  const lines = await jsonRows<RawAside>(
    sql,
    "select row_to_json(t) as row from set_aside t where batch = $1 order by position",
    [batch],
  );
  const problemsOf = new Map<number, Problem[]>();
  for (const raw of await rawProblems(sql, batch)) {
    if (raw.set_aside === null) continue;
    const own = problemsOf.get(raw.set_aside);
    if (own === undefined) problemsOf.set(raw.set_aside, [problemOf(raw)]);
    else own.push(problemOf(raw));
  }
  return lines.map(({ position, file, sheet, line, cells }) => ({
    origin: { file, sheet, line },
    cells,
    problems: problemsOf.get(position) ?? [],
  }));
}

export async function readProblems(sql: Sql, batch: number): Promise<readonly Problem[]> {
  return (await rawProblems(sql, batch)).map(problemOf);
}

async function rawProblems(sql: Sql, batch: number): Promise<readonly RawProblem[]> {
  return await jsonRows<RawProblem>(
    sql,
    "select row_to_json(t) as row from problems t where batch = $1 order by position",
    [batch],
  );
}

function problemOf({ code, severity, file, sheet, line, column, value, facts }: RawProblem): Problem {
  return { code, severity, origin: { file, sheet, line }, column, value, facts };
}

function countsOf(raw: RawCounts): LineCounts {
  return { lines: raw.lines, new: raw.new, unchanged: raw.unchanged, changed: raw.changed, setAside: raw.set_aside };
}
