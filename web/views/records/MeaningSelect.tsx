import type { WordMeaning } from "../../state/wordChoices.ts";

export const sayMeaning = (meaning: WordMeaning): string =>
  meaning === null ? "nothing written down" : meaning === true ? "yes" : meaning === false ? "no" : String(meaning);

interface MeaningSelectProps {
  readonly label: string;
  readonly meanings: readonly WordMeaning[];
  /** Undefined: nothing chosen yet. */
  readonly value: WordMeaning | undefined;
  readonly disabled: boolean;
  readonly onPick: (meaning: WordMeaning | undefined) => void;
}

const nothing = "(nothing)";
const code = (meaning: WordMeaning): string => (meaning === null ? nothing : JSON.stringify(meaning));

/** What a phrase of the shop means, out of a list. */
export function MeaningSelect({ label, meanings, value, disabled, onPick }: MeaningSelectProps) {
  return (
    <select
      aria-label={label}
      disabled={disabled}
      value={value === undefined ? "" : code(value)}
      onChange={(event) => {
        const picked = event.currentTarget.value;
        onPick(picked === nothing ? null : meanings.find((meaning) => code(meaning) === picked));
      }}
    >
      {value === undefined ? <option value="">choose…</option> : null}
      {meanings
        .filter((meaning) => meaning !== null)
        .map((meaning) => (
          <option key={code(meaning)} value={code(meaning)}>
            {sayMeaning(meaning)}
          </option>
        ))}
      <option value={nothing}>nothing was written down</option>
    </select>
  );
}
