import { type StoredBatch, sayLineCounts } from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { Link } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";

/** What was stored, and the way to the first answer. */
export function StoredView({ batch, onAgain }: { readonly batch: StoredBatch; readonly onAgain: () => void }) {
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
        <Section name="Files">
          <DataTable
            caption="Files of this drop"
            hideCaption
            rows={batch.files}
            keyOf={(file) => file.file}
            columns={[
              { title: "File", show: (file) => file.file },
              { title: "Lines", numeric: true, show: (file) => file.counts.lines },
              { title: "New", numeric: true, show: (file) => file.counts.new },
              { title: "Changed", numeric: true, show: (file) => file.counts.changed },
              { title: "Unchanged", numeric: true, show: (file) => file.counts.unchanged },
              { title: "Set aside", numeric: true, show: (file) => file.counts.setAside },
            ]}
          />
          {counts.setAside === 0 ? null : (
            <p class="small">
              <a href={`/api/batches/${batch.batch}/set-aside.csv`} download>
                The lines set aside, with what is wrong in each (CSV)
              </a>
              : mend them and drop them in again.
            </p>
          )}
        </Section>
      </div>
    </>
  );
}
