import { useDrop } from "../../state/useDrop.ts";
import { Link } from "../parts/Link.tsx";
import { Failure } from "../parts/States.tsx";
import { DropPreviewView } from "./DropPreviewView.tsx";
import { DropZone } from "./DropZone.tsx";
import { ReadingView } from "./ReadingView.tsx";
import { StoredView } from "./StoredView.tsx";

/** New sheets: drop, look, confirm, store. Nothing is stored before the last step. */
export function DropView() {
  const { step, trouble, start, paste, answer, store, takeBack, again } = useDrop();
  const told =
    trouble === null ? null : (
      <p class="trouble" role="alert">
        {trouble.message}
      </p>
    );
  if (step.at === "lost")
    return (
      <Failure title="This drop is not here any more" failure={step.failure}>
        <Link to={{ view: "drop", drop: null }} class="button main">
          Drop in sheets
        </Link>
      </Failure>
    );
  if (step.at === "reading") return <ReadingView what={step.what} progress={step.progress} onCancel={takeBack} />;
  if (step.at === "stored") return <StoredView batch={step.batch} preview={step.preview} onAgain={again} />;
  if (step.at === "start")
    return (
      <>
        {told}
        <DropZone told={step.told} onFiles={start} onPaste={paste} />
      </>
    );
  return (
    <>
      {told}
      <DropPreviewView
        preview={step.preview}
        busy={step.busy}
        share={step.share}
        onAnswer={answer}
        onStore={store}
        onTakeBack={takeBack}
      />
    </>
  );
}
