import { useEffect, useRef, useState } from "preact/hooks";
import type { RowRef, StoredRow } from "../../../analysis/index.ts";
import { fetchLives, fetchRows } from "../../state/api.ts";
import type { Picked } from "../../state/evidence.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { StoredRecord } from "./StoredRecord.tsx";

interface RowsBehindProps {
  readonly picked: Picked | null;
  /** Names the result that the life ids belong to. */
  readonly study: string | null;
  /** What to click, where nothing is picked yet. */
  readonly hint: string;
}

const atFirst = 12;

/** The records behind what was picked: canonical values, the cells as written, file and line. */
export function RowsBehind({ picked, study, hint }: RowsBehindProps) {
  const top = useRef<HTMLDivElement>(null);
  const [limit, setLimit] = useState(atFirst);
  const key = picked === null ? null : JSON.stringify([study, picked.lifeIds, picked.rows]);
  const rows = useLoaded(key, async (signal): Promise<readonly StoredRow[]> => {
    if (picked === null) return [];
    const lives = picked.lifeIds.length > 0 && study !== null ? await fetchLives(study, picked.lifeIds, signal) : [];
    const wanted = unique([...picked.rows, ...lives.flatMap((life) => life.rows)]);
    return wanted.length === 0 ? [] : fetchRows(wanted, signal);
  });
  useEffect(() => {
    setLimit(atFirst);
    if (key !== null) top.current?.scrollIntoView({ block: "nearest" });
  }, [key]);

  if (picked === null) return <p class="muted">{hint}</p>;
  const shown = rows.value?.slice(0, limit) ?? [];
  const left = (rows.value?.length ?? 0) - shown.length;
  return (
    <div ref={top} aria-live="polite" class={rows.waiting && rows.value !== null ? "stale" : undefined}>
      <p>
        <strong>{picked.title}</strong>
      </p>
      {rows.failure === null ? null : (
        <p role="alert">
          {rows.failure.message}{" "}
          <button type="button" class="plain" onClick={rows.again}>
            Try again
          </button>
        </p>
      )}
      {rows.slow && rows.value === null ? <p class="muted">Looking the rows up…</p> : null}
      {rows.value?.length === 0 ? <p class="muted">No stored row belongs to this any more.</p> : null}
      {shown.map((row) => (
        <StoredRecord key={`${row.table} ${row.key}`} row={row} />
      ))}
      {left > 0 ? (
        <button type="button" onClick={() => setLimit(limit + 50)}>
          {left === 1 ? "Show the last row" : `Show more (${left} left)`}
        </button>
      ) : null}
    </div>
  );
}

function unique(rows: readonly RowRef[]): readonly RowRef[] {
  return [...new Map(rows.map((row) => [`${row.table}:${row.key}`, row])).values()];
}
