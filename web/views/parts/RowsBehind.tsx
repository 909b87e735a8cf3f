import { useEffect, useRef, useState } from "preact/hooks";
import { countOf, type RowRef, type RowsReply, tableDescriptors } from "../../../analysis/index.ts";
import { fetchLives, fetchRows } from "../../state/api.ts";
import type { Picked } from "../../state/evidence.ts";
import { type Loaded, useLoaded } from "../../state/useLoaded.ts";
import { keyWords } from "./keyWords.ts";
import { Pager } from "./Pager.tsx";
import { RowHistory } from "./RowHistory.tsx";
import { StoredRecord } from "./StoredRecord.tsx";

interface RowsBehindProps {
  readonly picked: Picked | null;
  /** Names the result that the life ids belong to. */
  readonly study: string | null;
  /** What to click, where nothing is picked yet. */
  readonly hint: string;
}

const rowsAtOnce = 10;

/** The records behind what was picked, page by page: canonical values, the cells as written, file and line. */
export function RowsBehind({ picked, study, hint }: RowsBehindProps) {
  const top = useRef<HTMLDivElement>(null);
  const [from, setFrom] = useState(0);
  const key = picked === null ? null : JSON.stringify([study, picked.lifeIds, picked.rows]);
  const refs = useLoaded(key, async (signal): Promise<readonly RowRef[]> => {
    if (picked === null) return [];
    const lives = picked.lifeIds.length > 0 && study !== null ? await fetchLives(study, picked.lifeIds, signal) : [];
    return unique([...picked.rows, ...lives.flatMap((life) => life.rows)]);
  });
  const total = refs.value?.length ?? 0;
  const page = { from, to: Math.min(from + rowsAtOnce, total) };
  const pageKey = refs.value === null || refs.waiting || total === 0 ? null : `${key} ${from}`;
  const rows = useLoaded(pageKey, (signal) => fetchRows(refs.value?.slice(page.from, page.to) ?? [], signal));
  useEffect(() => {
    setFrom(0);
    if (key !== null) top.current?.scrollIntoView({ block: "nearest" });
  }, [key]);

  if (picked === null) return <p class="muted">{hint}</p>;
  const stale = (refs.waiting || rows.waiting) && rows.value !== null;
  return (
    <div ref={top} class={stale ? "rows-behind stale" : "rows-behind"}>
      <div aria-live="polite">
        <p>
          <strong>{picked.title}</strong>
        </p>
        {total === 0 ? null : <p class="muted small">{sayHowMany(picked, total)}</p>}
      </div>
      <Trouble loaded={refs.failure === null ? rows : refs} />
      {(refs.slow || rows.slow) && rows.value === null ? <p class="muted">Looking the rows up…</p> : null}
      {refs.value?.length === 0 && !refs.waiting ? <p class="muted">No stored row belongs to this any more.</p> : null}
      {rows.value?.rows.map((row) => (
        <StoredRecord key={`${row.table} ${row.key}`} row={row}>
          <RowHistory row={row} version={String(row.batch)} />
        </StoredRecord>
      ))}
      {rows.value === null || rows.value.missing.length === 0 ? null : <Missing missing={rows.value.missing} />}
      <Pager {...page} total={total} step={rowsAtOnce} what="rows" onFrom={setFrom} />
    </div>
  );
}

function sayHowMany({ lifeIds }: Picked, total: number): string {
  const rows = `${countOf(total, "row")} of your sheets`;
  return lifeIds.length < 2 ? rows : `${countOf(lifeIds.length, "life", "lives")}, ${rows}, life by life.`;
}

const Trouble = ({ loaded }: { readonly loaded: Pick<Loaded<unknown>, "failure" | "again"> }) =>
  loaded.failure === null ? null : (
    <p role="alert">
      {loaded.failure.message}{" "}
      <button type="button" class="plain" onClick={loaded.again}>
        Try again
      </button>
    </p>
  );

/** Rows that the answer rests on and that the records do not hold (any more). */
const Missing = ({ missing }: { readonly missing: RowsReply["missing"] }) => (
  <p class="small" role="note">
    Not in the records any more:{" "}
    {missing.map(({ table, key }) => `${tableDescriptors[table].title} ${keyWords(key)}`).join("; ")}. Ask the question
    again to have an answer from the present records.
  </p>
);

function unique(rows: readonly RowRef[]): readonly RowRef[] {
  return [...new Map(rows.map((row) => [`${row.table}:${row.key}`, row])).values()];
}
