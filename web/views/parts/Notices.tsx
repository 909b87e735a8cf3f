import { type Notice, type RowRef, sayNotice } from "../../../analysis/index.ts";

interface NoticesProps {
  readonly notices: readonly Notice[];
  /** Shows the rows a notice rests on; left out where the view has no place for them. */
  readonly onRows?: (title: string, rows: readonly RowRef[]) => void;
}

/** What a reader must know beside the number, in words. */
export function Notices({ notices, onRows }: NoticesProps) {
  if (notices.length === 0) return null;
  return (
    <ul class="notices">
      {notices.map((notice) => {
        const words = sayNotice(notice);
        const rows = notice.rows ?? [];
        return (
          <li key={`${notice.code} ${words}`}>
            <span>
              {words}
              {onRows === undefined || rows.length === 0 ? null : (
                <>
                  {" "}
                  <button type="button" class="plain" onClick={() => onRows(words, rows)}>
                    {rows.length === 1 ? "Show the row" : `Show ${rows.length} rows`}
                  </button>
                </>
              )}
            </span>
          </li>
        );
      })}
    </ul>
  );
}
