import { type DropProgress, formatExact } from "../../../analysis/index.ts";

interface ReadingViewProps {
  readonly what: string;
  /** Null while the files are still on their way. */
  readonly progress: DropProgress | null;
  readonly onCancel: () => void;
}

const stages: Readonly<Record<DropProgress["stage"], string>> = {
  waiting: "Waiting to begin",
  reading: "Reading the cells",
  mapping: "Turning lines into rows",
  comparing: "Comparing with what is stored",
};

/** How far the reading is. It goes on behind the page: another view can be looked at meanwhile. */
export function ReadingView({ what, progress, onCancel }: ReadingViewProps) {
  const share = progress?.share ?? 0;
  return (
    <div class="reading">
      <p class="answer">{what}.</p>
      <progress class="bar" max={1} value={share} aria-label="How far the reading is" />
      <p class="small muted" role="status">
        {progress === null ? "Sending the files" : `${stages[progress.stage]}${sayLines(progress)}`}
      </p>
      <p class="answer-actions small">
        <button type="button" onClick={onCancel}>
          Cancel
        </button>
        <span class="muted">Nothing is stored yet. You may look at another view meanwhile and come back.</span>
      </p>
    </div>
  );
}

function sayLines({ rows, rowsInAll, share }: DropProgress): string {
  if (rows === 0) return "";
  const of = rowsInAll === null ? "" : ` of ${formatExact(rowsInAll)}`;
  return `: ${formatExact(rows)}${of} lines, ${Math.round(share * 100)} %`;
}
