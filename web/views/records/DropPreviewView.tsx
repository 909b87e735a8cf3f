import {
  type Confirmation,
  countOf,
  type DropAnswers,
  type DropPreview,
  type FilePreview,
  type Mapping,
  nameOfSheet,
  sayLineCounts,
} from "../../../analysis/index.ts";
import { unknownPhrases } from "../../state/wordChoices.ts";
import { Link } from "../parts/Link.tsx";
import { Section } from "../parts/Section.tsx";
import { Confirmations } from "./Confirmations.tsx";
import { FilePreviewView } from "./FilePreviewView.tsx";
import { ProblemsTable } from "./ProblemsTable.tsx";
import { RenewalForm } from "./RenewalForm.tsx";
import { SetupTable } from "./SetupTable.tsx";
import { SheetsTable } from "./SheetsTable.tsx";
import { StoreForm } from "./StoreForm.tsx";
import { UnknownWords } from "./UnknownWords.tsx";

interface DropPreviewViewProps {
  readonly preview: DropPreview;
  /** What is going on, while it is. */
  readonly busy: string | null;
  readonly onAnswer: (answers: DropAnswers) => void;
  readonly onStore: () => void;
}

/** What the drop would become: the answer first, what to confirm, then each file column by column. */
export function DropPreviewView({ preview, busy, onAnswer, onStore }: DropPreviewViewProps) {
  const { counts, files, confirmations } = preview;
  const open = confirmations.filter((confirmation) => !confirmation.answered);
  const phrases = unknownPhrases(preview);
  const changeOf = (file: FilePreview) => (mapping: Mapping) =>
    onAnswer({ mappings: { [nameOfSheet(file)]: mapping } });
  return (
    <div aria-busy={busy !== null}>
      <p class="answer">
        {countOf(files.length, "sheet")}, {countOf(counts.lines, "line")}: {sayLineCounts(counts)}.{" "}
        {open.length === 0 ? "Ready to be stored." : `${countOf(open.length, "thing")} to confirm first.`}
      </p>
      <p class="answer-actions small">
        <span aria-live="polite">{busy ?? "Nothing is stored yet."}</span>
        <Link to={{ view: "drop", drop: null }}>Start over with other sheets</Link>
      </p>
      <div class="card">
        <Section name="To confirm">
          <Confirmations
            confirmations={confirmations}
            disabled={busy !== null}
            onConfirm={(ids) => onAnswer({ confirm: ids })}
            otherwise={(confirmation) => {
              const file = confirmation.kind === "added rows" ? fileAskedAbout(confirmation, files) : undefined;
              return file === undefined ? null : (
                <RenewalForm mapping={file.mapping} disabled={busy !== null} onMapping={changeOf(file)} />
              );
            }}
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
        {files.length < 2 ? null : (
          <Section name="Sheets">
            <SheetsTable files={files} />
          </Section>
        )}
        {files.map((file) => (
          <Section key={nameOfSheet(file)} name="Sheet">
            <FilePreviewView
              file={file}
              open={files.length === 1 || file.mappingIs === "not understood" || file.mappingIs === "edited"}
              disabled={busy !== null}
              onMapping={changeOf(file)}
            />
          </Section>
        ))}
        {preview.setup.length === 0 ? null : (
          <Section name="Follows">
            <SetupTable setup={preview.setup} />
          </Section>
        )}
        {preview.linkProblems.length === 0 ? null : (
          <Section name="Links">
            <ProblemsTable caption="Links between the sheets that lead nowhere" problems={preview.linkProblems} />
          </Section>
        )}
        <Section name="Store">
          <StoreForm ready={preview.ready} open={open.length} busy={busy} onStore={onStore} />
        </Section>
      </div>
    </div>
  );
}

/** The sheet that a question about what a build renews belongs to. */
const fileAskedAbout = ({ proposed }: Confirmation, files: readonly FilePreview[]): FilePreview | undefined =>
  files.find(
    ({ mapping }) =>
      mapping.addRows.length > 0 && mapping.addRows.map(({ statement }) => statement).join(" ") === proposed,
  );
