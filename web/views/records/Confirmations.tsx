import type { ComponentChildren } from "preact";
import { type Confirmation, countOf } from "../../../analysis/index.ts";

interface ConfirmationsProps {
  readonly confirmations: readonly Confirmation[];
  readonly disabled: boolean;
  readonly onConfirm: (ids: readonly string[]) => void;
  /** What a person may answer instead of yes, or what the question is about, where there is something to show. */
  readonly otherwise?: (confirmation: Confirmation) => ComponentChildren;
}

/** Kinds whose proposal is shown as a table or a form under the question, not as a sentence. */
const shownBelow: ReadonlySet<Confirmation["kind"]> = new Set(["added rows", "words", "tools", "items", "modes"]);

/** What a person confirms, one by one or all that are shown; what is accepted stays readable. */
export function Confirmations({ confirmations, disabled, onConfirm, otherwise }: ConfirmationsProps) {
  const open = confirmations.filter((confirmation) => !confirmation.answered);
  const answered = confirmations.filter((confirmation) => confirmation.answered);
  return (
    <div>
      {open.length === 0 ? (
        <p>
          {confirmations.length === 0
            ? "These sheets are known; there is nothing to confirm."
            : "Everything is confirmed."}
        </p>
      ) : (
        <>
          <ul>
            {open.map((confirmation) => (
              <li key={confirmation.id} class="confirm">
                <div>
                  <h3>{confirmation.question}</h3>
                  {shownBelow.has(confirmation.kind) ? null : <p>{confirmation.proposed}</p>}
                  <p class="muted small">{confirmation.why}</p>
                </div>
                <button type="button" disabled={disabled} onClick={() => onConfirm([confirmation.id])}>
                  Yes, so it is<span class="unseen">: {confirmation.question}</span>
                </button>
                <div class="confirm-more">{otherwise?.(confirmation)}</div>
              </li>
            ))}
          </ul>
          {open.length < 2 ? null : (
            <p class="after-list">
              <button type="button" disabled={disabled} onClick={() => onConfirm(open.map(({ id }) => id))}>
                Yes to all {open.length} shown here
              </button>
            </p>
          )}
        </>
      )}
      {answered.length === 0 ? null : (
        <details class="how after-list">
          <summary>{countOf(answered.length, "thing")} confirmed</summary>
          <ul class="notices">
            {answered.map(({ id, question, proposed }) => (
              <li key={id}>
                <span>
                  {question} {proposed}
                </span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  );
}
