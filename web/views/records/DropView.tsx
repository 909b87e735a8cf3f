import { useState } from "preact/hooks";
import type { DropAnswers, DropPreview, StoredBatch } from "../../../analysis/index.ts";
import { answerDrop, fetchDrop, startDrop, storeDrop } from "../../state/api.ts";
import { initials } from "../../state/initials.ts";
import { move, place } from "../../state/navigation.ts";
import { loadShopState } from "../../state/shopState.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { Link } from "../parts/Link.tsx";
import { Failure, Waiting } from "../parts/States.tsx";
import { DropPreviewView } from "./DropPreviewView.tsx";
import { DropZone } from "./DropZone.tsx";
import { StoredView } from "./StoredView.tsx";

/** New sheets: drop, look, confirm, store. Nothing is stored before the last step. */
export function DropView() {
  const { drop } = place.value;
  const [newest, setNewest] = useState<DropPreview | null>(null);
  const [stored, setStored] = useState<StoredBatch | null>(null);
  const [busy, setBusy] = useState<string | null>(null);
  const [trouble, setTrouble] = useState<Error | null>(null);
  const known = newest !== null && newest.id === drop ? newest : null;
  const loaded = useLoaded(drop === null || known !== null || stored !== null ? null : `drop ${drop}`, (signal) =>
    fetchDrop(drop ?? "", signal),
  );
  const preview = known ?? loaded.value;

  const work = async (words: string, task: () => Promise<void>) => {
    setBusy(words);
    setTrouble(null);
    try {
      await task();
    } catch (cause) {
      setTrouble(cause instanceof Error ? cause : new Error(String(cause)));
    } finally {
      setBusy(null);
    }
  };
  const start = (files: readonly File[]) =>
    void work(files.length === 1 ? "Reading the sheet…" : `Reading ${files.length} sheets…`, async () => {
      const next = await startDrop(files);
      setStored(null);
      setNewest(next);
      move({ drop: next.id });
    });
  const answer = (answers: DropAnswers) =>
    void work("Reading the sheets again with your answer…", async () => {
      if (preview !== null) setNewest(await answerDrop(preview.id, answers));
    });
  const store = () =>
    void work("Storing…", async () => {
      if (preview === null) return;
      setStored(await storeDrop(preview.id, initials.value));
      await loadShopState();
    });

  if (stored !== null)
    return (
      <StoredView
        batch={stored}
        onAgain={() => {
          setStored(null);
          setNewest(null);
          move({ drop: null });
        }}
      />
    );
  if (drop !== null && loaded.failure !== null && preview === null)
    return (
      <Failure title="This drop is not here any more" failure={loaded.failure}>
        <Link to={{ view: "drop", drop: null }} class="button main">
          Drop in sheets
        </Link>
      </Failure>
    );
  if (drop !== null && preview === null) return <Waiting slow={loaded.slow}>Looking the drop up…</Waiting>;
  return (
    <>
      {preview === null ? <DropZone busy={busy} onFiles={start} /> : null}
      {trouble === null ? null : (
        <p class="trouble" role="alert">
          {trouble.message}
        </p>
      )}
      {preview === null ? null : <DropPreviewView preview={preview} busy={busy} onAnswer={answer} onStore={store} />}
    </>
  );
}
