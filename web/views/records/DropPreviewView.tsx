import { useEffect, useRef } from "preact/hooks";
import {
  type Confirmation,
  countOf,
  type DropAnswers,
  type DropPreview,
  nameOfSheet,
  sayLineCounts,
} from "../../../analysis/index.ts";
import { mappingEdit } from "../../state/dropEdits.ts";
import { setAsideAddress } from "../../state/dropRequests.ts";
import { unknownPhrases } from "../../state/wordChoices.ts";
import { Section } from "../parts/Section.tsx";
import { Balance } from "./Balance.tsx";
import { ChangesTable } from "./ChangesTable.tsx";
import { Confirmations } from "./Confirmations.tsx";
import { FilePreviewView } from "./FilePreviewView.tsx";
import { GoneRows } from "./GoneRows.tsx";
import { Otherwise } from "./Otherwise.tsx";
import { ProblemsTable } from "./ProblemsTable.tsx";
import { SetAside } from "./SetAside.tsx";
import { SetupTable } from "./SetupTable.tsx";
import { SheetsTable } from "./SheetsTable.tsx";
import { StoreForm } from "./StoreForm.tsx";
import { TabNotices } from "./TabNotices.tsx";
import { UnknownWords } from "./UnknownWords.tsx";

interface DropPreviewViewProps {
  readonly preview: DropPreview;
  /** What is going on, while it is, and how far it is, where that is known. */
  readonly busy: string | null;
  readonly share: number | null;
  readonly onAnswer: (answers: DropAnswers) => void;
  readonly onStore: () => void;
  readonly onTakeBack: () => void;
}

/** What the drop would become: counts, what to confirm, what changes, the step that stores it; then each sheet in full. */
export function DropPreviewView({ preview, busy, share, onAnswer, onStore, onTakeBack }: DropPreviewViewProps) {
  const { counts, files, confirmations } = preview;
  const open = confirmations.filter((confirmation) => !confirmation.answered);
  const phrases = unknownPhrases(preview);
  const gone = files.flatMap((file) => file.gone);
  const changed = files.some((file) => file.changes.length > 0);
  const answer = useRef<HTMLParagraphElement>(null);
  useEffect(() => answer.current?.focus({ preventScroll: true }), [preview.id]);
  return (
    <div aria-busy={busy !== null}>
      <p class="answer" ref={answer} tabIndex={-1}>
        {countOf(files.length, "sheet")}, {countOf(counts.lines, "line")}: {sayLineCounts(counts)}.{" "}
        {sayNext(open.length, confirmations.length)}
      </p>
      <p class="answer-actions small">
        <span role="status">
          {busy === null
            ? "Nothing is stored yet."
            : `${busy}${share === null ? "…" : `, ${Math.round(share * 100)} %`}`}
        </span>
        <button type="button" class="plain" onClick={onTakeBack}>
          Take this drop back
        </button>
      </p>
      <div class="card">
        <Section name="Lines">
          <Balance counts={counts} />
          <TabNotices files={files} />
        </Section>
        <Section name="To confirm">
          <Confirmations
            confirmations={confirmations}
            disabled={busy !== null}
            onConfirm={(ids) => onAnswer({ confirm: ids })}
            otherwise={(confirmation) => (
              <Otherwise confirmation={confirmation} preview={preview} disabled={busy !== null} onAnswer={onAnswer} />
            )}
          />
        </Section>
        {phrases.length === 0 ? null : (
          <Section name="Words">
            <UnknownWords
              preview={preview}
              phrases={phrases}
              disabled={busy !== null}
              onWords={(words) => onAnswer({ words })}
            />
          </Section>
        )}
        {changed ? (
          <Section name="Changed">
            <ChangesTable files={files} />
          </Section>
        ) : null}
        {gone.length === 0 ? null : (
          <Section name="Gone">
            <GoneRows gone={gone} />
          </Section>
        )}
        {counts.setAside === 0 ? null : (
          <Section name="Set aside">
            <SetAside
              sheets={files.map(({ file, sheet, counts: own }) => ({ file, sheet, setAside: own.setAside }))}
              addressOf={(file, tab) => setAsideAddress(preview.id, file, tab)}
            />
          </Section>
        )}
        <Section name="Store">
          <StoreForm ready={preview.ready} open={open.length} busy={busy} onStore={onStore} />
        </Section>
        <Section name={files.length === 1 ? "Sheet" : "Sheets"}>
          {files.length < 2 ? null : <SheetsTable files={files} />}
          {files.map((file) => (
            <FilePreviewView
              key={nameOfSheet(file)}
              file={file}
              files={files}
              open={file.mappingIs === "not understood" || file.mappingIs === "edited"}
              disabled={busy !== null}
              onMapping={(mapping) => onAnswer({ mappings: mappingEdit(files, file, mapping) })}
            />
          ))}
        </Section>
        {preview.setup.length === 0 || open.some(({ kind }) => setupKinds.has(kind)) ? null : (
          <Section name="Follows">
            <SetupTable setup={preview.setup} />
          </Section>
        )}
        {preview.linkProblems.length === 0 ? null : (
          <Section name="Links">
            <ProblemsTable
              caption="Links between the sheets that lead nowhere"
              problems={preview.linkProblems}
              inAll={preview.linkProblemsInAll ?? preview.linkProblems.length}
            />
          </Section>
        )}
      </div>
    </div>
  );
}

/** Their rows stand under the question itself as long as it is open. */
const setupKinds: ReadonlySet<Confirmation["kind"]> = new Set(["tools", "items", "modes"]);

function sayNext(open: number, all: number): string {
  if (open > 0) return `${countOf(open, "thing")} to confirm first.`;
  return all === 0 ? "Nothing to confirm: ready to be stored." : "Ready to be stored.";
}
