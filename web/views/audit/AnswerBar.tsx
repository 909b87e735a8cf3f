import { useState } from "preact/hooks";
import { countOf } from "../../../analysis/index.ts";
import { allProposed, answersTo, type Decision, fieldOf, verdictsOn } from "../../state/auditAnswers.ts";
import { type Doubt, giveAnswers, previewAnswers } from "../../state/auditRequests.ts";
import { initials } from "../../state/initials.ts";
import type { DoubtKind } from "../../state/place.ts";
import { loadShopState } from "../../state/shopState.ts";
import { useLoaded } from "../../state/useLoaded.ts";
import { FieldInput } from "../forms/FieldInput.tsx";
import { useWho, Who } from "../parts/Who.tsx";
import { sayEffect } from "./sayEffect.ts";

interface AnswerBarProps {
  readonly kind: DoubtKind;
  readonly doubts: readonly Doubt[];
  readonly onStored: () => void;
}

/** At the foot of the list, always in reach: what is true of the ticked rows, how that is known, and what it would change. */
export function AnswerBar({ kind, doubts, onStored }: AnswerBarProps) {
  const proposed = allProposed(doubts);
  const only = verdictsOn(kind);
  const [decided, setDecided] = useState<Decision | null>(only.length === 1 ? { verdict: "accept" } : null);
  const [why, setWhy] = useState("");
  const [busy, setBusy] = useState(false);
  const [told, setTold] = useState({ words: "", wrong: false });
  const who = useWho();
  // What was proposed for other rows is not taken for these.
  const decision = decided?.verdict === "correct" && decided.to === "proposed" && !proposed ? null : decided;
  const settled = answersTo(doubts, decision, why);
  const looked = answersTo(doubts, decision, "preview");
  const preview = useLoaded("answers" in looked ? JSON.stringify(looked.answers) : null, (signal) =>
    previewAnswers("answers" in looked ? looked.answers : [], signal),
  );
  const store = async () => {
    if ("missing" in settled || !who.settle()) return;
    setBusy(true);
    try {
      const { stored } = await giveAnswers(settled.answers, initials.value);
      setTold({ words: `${countOf(stored, "answer")} stored by ${initials.value}.`, wrong: false });
      onStored();
      await loadShopState();
    } catch (cause) {
      setTold({ words: cause instanceof Error ? cause.message : String(cause), wrong: true });
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      class="store-bar answer-bar"
      onSubmit={(event) => {
        event.preventDefault();
        void store();
      }}
    >
      {doubts.length === 0 ? null : (
        <VerdictFields kind={kind} doubts={doubts} decision={decision} onDecision={setDecided} />
      )}
      <div class="store-bar-words" aria-live="polite">
        <p>
          <strong>{doubts.length === 0 ? "Nothing ticked yet." : `${countOf(doubts.length, "row")} ticked.`}</strong>{" "}
          <span class="muted">{"missing" in settled ? settled.missing : ""}</span>{" "}
          {preview.value === null || preview.waiting ? null : <span>{sayEffect(preview.value)}</span>}
        </p>
        {preview.failure === null ? null : <p class="wrong">{preview.failure.message}</p>}
        <p class={told.wrong ? "trouble" : "small"} role="status">
          {told.words}
        </p>
      </div>
      {doubts.length === 0 ? null : (
        <>
          <label class="field why">
            How do you know?
            <input
              value={why}
              list="known-whys"
              maxLength={2000}
              autocomplete="off"
              onInput={(event) => setWhy(event.currentTarget.value)}
            />
          </label>
          <datalist id="known-whys">
            {whys.map((each) => (
              <option key={each} value={each} />
            ))}
          </datalist>
          <Who who={who} words="Answered by" label="Your initials, kept with it" />
          <button type="submit" class="main tap" disabled={busy || "missing" in settled}>
            Answer
          </button>
        </>
      )}
    </form>
  );
}

const whys = [
  "Looked up on the run report",
  "Looked up on the build sheet",
  "Looked up in the torque log",
  "Asked the crew",
  "Asked the technician",
  "The same report twice",
] as const;

interface VerdictFieldsProps {
  readonly kind: DoubtKind;
  readonly doubts: readonly Doubt[];
  readonly decision: Decision | null;
  readonly onDecision: (decision: Decision) => void;
}

function VerdictFields({ kind, doubts, decision, onDecision }: VerdictFieldsProps) {
  const field = fieldOf(kind);
  const can = verdictsOn(kind);
  const many = doubts.length > 1;
  const typed = decision?.verdict === "correct" && decision.to === "typed" ? decision.typed : null;
  return (
    <fieldset class="verdicts">
      <legend class="unseen">What is true of them</legend>
      <Verdict
        name={many ? "They are right as written" : "It is right as written"}
        checked={decision?.verdict === "accept"}
        onPick={() => onDecision({ verdict: "accept" })}
      />
      {can.includes("correct") && allProposed(doubts) ? (
        <Verdict
          name={many ? "Correct each as proposed" : "Correct it as proposed"}
          checked={decision?.verdict === "correct" && decision.to === "proposed"}
          onPick={() => onDecision({ verdict: "correct", to: "proposed" })}
        />
      ) : null}
      {can.includes("correct") && field !== null ? (
        <span class="verdict-with-value">
          <Verdict
            name={many ? "Correct all to" : "Correct it to"}
            checked={decision?.verdict === "correct" && decision.to === "typed"}
            onPick={() => onDecision({ verdict: "correct", to: "typed", typed })}
          />
          <FieldInput
            field={field}
            value={typed}
            label={`Right value: ${field.title}${field.unit === undefined ? "" : `, ${field.unit}`}`}
            onValue={(value) => onDecision({ verdict: "correct", to: "typed", typed: value })}
          />
          {field.unit === undefined ? null : <span class="muted small">{field.unit}</span>}
        </span>
      ) : null}
      {can.includes("exclude") ? (
        <Verdict
          name={many ? "Leave these rows out" : "Leave the row out"}
          checked={decision?.verdict === "exclude"}
          onPick={() => onDecision({ verdict: "exclude" })}
        />
      ) : null}
    </fieldset>
  );
}

const Verdict = ({
  name,
  checked,
  onPick,
}: {
  readonly name: string;
  readonly checked: boolean;
  readonly onPick: () => void;
}) => (
  <label class="verdict">
    <input type="radio" name="verdict" checked={checked} onChange={onPick} />
    <span>{name}</span>
  </label>
);
