import { useState } from "preact/hooks";
import { areInitials, initials, rememberInitials } from "../../state/initials.ts";

export interface WhoAnswers {
  /** What is shown: the initials that are known, or the field that asks for them. */
  readonly known: string;
  readonly asks: boolean;
  readonly typed: string;
  readonly missing: boolean;
  readonly onTyped: (text: string) => void;
  readonly onSomeoneElse: () => void;
  /** Keeps what was typed; false where it is none, and the field then says so. */
  readonly settle: () => boolean;
}

/** Who answers: asked once on this browser, remembered, and changed at will. */
export function useWho(): WhoAnswers {
  const known = initials.value;
  const [typed, setTyped] = useState("");
  const [asks, setAsks] = useState(known === "");
  const [missing, setMissing] = useState(false);
  return {
    known,
    asks,
    typed,
    missing: missing && !areInitials(typed),
    onTyped: setTyped,
    onSomeoneElse: () => {
      setTyped("");
      setMissing(false);
      setAsks(true);
    },
    settle: () => {
      if (!asks) return true;
      if (!areInitials(typed)) {
        setMissing(true);
        return false;
      }
      rememberInitials(typed);
      setAsks(false);
      return true;
    },
  };
}

interface WhoProps {
  readonly who: WhoAnswers;
  /** "Stored as confirmed by". */
  readonly words: string;
  readonly label?: string;
}

export const Who = ({ who, words, label = "Your initials, kept with what you confirmed" }: WhoProps) =>
  who.asks ? (
    <label class="field initials">
      {label}
      <input
        value={who.typed}
        maxLength={12}
        autocomplete="off"
        aria-invalid={who.missing}
        onInput={(event) => who.onTyped(event.currentTarget.value)}
      />
      {who.missing ? <span class="wrong">One to twelve letters, please.</span> : null}
    </label>
  ) : (
    <p class="small">
      {words} <strong>{who.known}</strong>.{" "}
      <button type="button" class="plain" onClick={who.onSomeoneElse}>
        Someone else
      </button>
    </p>
  );
