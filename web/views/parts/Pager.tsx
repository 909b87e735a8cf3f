import { formatExact } from "../../../analysis/index.ts";

interface PagerProps {
  readonly from: number;
  readonly to: number;
  readonly total: number;
  readonly step: number;
  readonly what: string;
  readonly onFrom: (from: number) => void;
}

/** Earlier and later parts of a long list; nothing where all of it is shown. */
export function Pager({ from, to, total, step, what, onFrom }: PagerProps) {
  if (total <= step) return null;
  return (
    <p class="pager small">
      <button type="button" disabled={from === 0} onClick={() => onFrom(Math.max(0, from - step))}>
        Before<span class="unseen">: {what}</span>
      </button>
      <span aria-live="polite">
        {what} {formatExact(from + 1)}–{formatExact(to)} of {formatExact(total)}
      </span>
      <button type="button" disabled={to >= total} onClick={() => onFrom(from + step)}>
        After<span class="unseen">: {what}</span>
      </button>
    </p>
  );
}
