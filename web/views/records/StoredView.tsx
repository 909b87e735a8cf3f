import { type DropPreview, nameOfSheet, type StoredBatch, sayLineCounts } from "../../../analysis/index.ts";
import { repairAddress } from "../../state/dropRequests.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";
import { SetAside } from "./SetAside.tsx";

interface StoredViewProps {
  readonly batch: StoredBatch;
  /** As it was looked at: knows the tabs, of which the batch keeps only the files. */
  readonly preview: DropPreview;
  readonly onAgain: () => void;
}

/** What was stored, and the way to the first answer. */
export function StoredView({ batch, preview, onAgain }: StoredViewProps) {
  const { counts } = batch;
  return (
    <>
      <p class="answer" role="status">
        Stored as drop {batch.batch}: {sayLineCounts(counts)}.
      </p>
      <p class="answer-actions">
        <Link to={{ view: "what-fails", drop: null }} class="button main">
          See what fails
        </Link>
        <button type="button" onClick={onAgain}>
          Drop in more sheets
        </button>
      </p>
      <div class="card">
        <Section name="Sheets">
          <DataTable
            caption="Sheets of this drop"
            hideCaption
            rows={preview.files}
            keyOf={nameOfSheet}
            columns={[
              { title: "Sheet", show: (file) => nameOfSheet(file) },
              { title: "Lines", numeric: true, show: (file) => file.counts.lines },
              { title: "New", numeric: true, show: (file) => file.counts.new },
              { title: "Unchanged", numeric: true, show: (file) => file.counts.unchanged },
              { title: "Changed", numeric: true, show: (file) => file.counts.changed },
              { title: "Set aside", numeric: true, show: (file) => file.counts.setAside },
            ]}
          />
        </Section>
        {counts.setAside === 0 ? null : (
          <Section name="Set aside">
            <SetAside
              sheets={preview.files.map(({ file, sheet, counts: own }) => ({ file, sheet, setAside: own.setAside }))}
              addressOf={(file, tab) => repairAddress(batch.batch, file, tab)}
            />
          </Section>
        )}
      </div>
    </>
  );
}
