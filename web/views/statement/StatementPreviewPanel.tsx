import { useState } from "preact/hooks";
import type { StatementEntry, StatementPreview } from "../../../analysis/index.ts";
import { initials } from "../../state/initials.ts";
import { draftStatement, fileFormats, previewFile } from "../../state/statementRequests.ts";
import { SelectField } from "../parts/SelectField.tsx";
import { useWho, Who } from "../parts/Who.tsx";
import type { MakingStatement } from "./useStatement.ts";

interface StatementPreviewPanelProps {
  readonly making: MakingStatement;
  readonly statements: readonly StatementEntry[];
  readonly onStored: () => void;
}

/** How far the preview is; then the document itself, in a frame, with its files and the way to store it. */
export function StatementPreviewPanel({ making, statements, onStored }: StatementPreviewPanelProps) {
  const { preview, progress, stop } = making;
  return (
    <section aria-label="Preview" class="card statement-preview">
      {progress === null ? null : (
        <div class="statement-progress">
          <label>
            <span aria-live="polite">{progress.what}…</span>
            <progress value={progress.done} max={progress.of} />
          </label>
          <button type="button" class="plain" onClick={stop}>
            Stop
          </button>
        </div>
      )}
      {preview === null ? (
        progress === null ? (
          <p class="quiet">The preview stands here once it is made.</p>
        ) : null
      ) : (
        <>
          <div class="statement-actions">
            <p>
              Hand over as{" "}
              {fileFormats.map(({ format, words }, index) => (
                <span key={format}>
                  {index === 0 ? null : ", "}
                  <a href={previewFile(preview.id, `statement.${format}`)} download={`preview.${format}`}>
                    {words}
                  </a>
                </span>
              ))}
              . Until it is stored, approved and issued it says that it is a preview.
            </p>
            <StoreDraft key={preview.id} preview={preview} statements={statements} onStored={onStored} />
          </div>
          <DocumentFrame key={preview.id} preview={preview} />
        </>
      )}
    </section>
  );
}

/** The document itself. Its pictures are drawn when it is first opened, and that takes a moment that must not look empty. */
function DocumentFrame({ preview }: { readonly preview: StatementPreview }) {
  const [drawn, setDrawn] = useState(false);
  return (
    <>
      {drawn ? null : (
        <p class="muted small" role="status">
          Drawing the document…
        </p>
      )}
      <iframe
        title={`${preview.document.title}: ${preview.document.subtitle}`}
        src={previewFile(preview.id, "statement.html")}
        sandbox="allow-same-origin"
        onLoad={(event) => {
          setDrawn(true);
          fitToContent(event.currentTarget);
        }}
      />
    </>
  );
}

/** As tall as the document, so that there is one scroll bar. */
function fitToContent(frame: HTMLIFrameElement): void {
  const height = frame.contentDocument?.documentElement.scrollHeight;
  if (height) frame.style.height = `${height + 2}px`;
}

interface StoreDraftProps extends Pick<StatementPreviewPanelProps, "statements" | "onStored"> {
  readonly preview: NonNullable<MakingStatement["preview"]>;
}

function StoreDraft({ preview, statements, onStored }: StoreDraftProps) {
  const who = useWho();
  const [of, setOf] = useState<string | null>(null);
  const [state, setState] = useState<{ readonly said: string; readonly wrong: boolean } | null>(null);
  const [busy, setBusy] = useState(false);
  const numbers = [...new Set(statements.map(({ statement }) => String(statement)))];
  const store = async () => {
    if (!who.settle()) return;
    setBusy(true);
    try {
      const { statement, version } = await draftStatement(
        preview.definition,
        of === null ? null : Number(of),
        initials.value,
      );
      setState({ said: `Stored as statement ${statement}, version ${version}: a draft.`, wrong: false });
      onStored();
    } catch (error) {
      setState({ said: error instanceof Error ? error.message : String(error), wrong: true });
    } finally {
      setBusy(false);
    }
  };
  return (
    <div class="statement-store">
      {numbers.length === 0 ? null : (
        <SelectField
          label="Store as"
          all="A new statement"
          value={of}
          options={numbers}
          say={(number) => `The next version of statement ${number}`}
          onPick={setOf}
        />
      )}
      <Who who={who} words="Drafted by" label="Your initials, printed on the statement" />
      <button type="button" class="main" disabled={busy} onClick={() => void store()}>
        Store as a draft
      </button>
      {state === null ? null : <p role={state.wrong ? "alert" : "status"}>{state.said}</p>}
    </div>
  );
}
