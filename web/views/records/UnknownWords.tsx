import { useState } from "preact/hooks";
import type { DropPreview, WordList } from "../../../analysis/index.ts";
import { meaningsOf, type UnknownPhrase } from "../../state/wordChoices.ts";
import { DataTable } from "../parts/DataTable.tsx";

interface UnknownWordsProps {
  readonly preview: DropPreview;
  readonly phrases: readonly UnknownPhrase[];
  readonly disabled: boolean;
  readonly onWords: (words: WordList["vocabularies"]) => void;
}

const keyOf = ({ vocabulary, phrase }: UnknownPhrase) => JSON.stringify([vocabulary, phrase]);
const notWritten = "not written down";

/** The shop's own words that no list knows yet: each is given a meaning, once. */
export function UnknownWords({ preview, phrases, disabled, onWords }: UnknownWordsProps) {
  const [chosen, setChosen] = useState<Readonly<Record<string, string>>>({});
  const count = phrases.filter((phrase) => (chosen[keyOf(phrase)] ?? "") !== "").length;
  const give = () => {
    const words: Record<string, Record<string, string | number | boolean | null>> = {};
    for (const phrase of phrases) {
      const picked = chosen[keyOf(phrase)] ?? "";
      if (picked === "") continue;
      const meaning = meaningsOf(preview, phrase.vocabulary).find((value) => String(value) === picked) ?? null;
      words[phrase.vocabulary] = { ...words[phrase.vocabulary], [phrase.phrase]: meaning };
    }
    setChosen({});
    onWords(words);
  };
  return (
    <div>
      <DataTable
        caption="Words not known yet"
        fill
        rows={phrases}
        keyOf={keyOf}
        columns={[
          { title: "As written", show: ({ phrase }) => <strong>{phrase}</strong> },
          { title: "Read as", show: ({ vocabulary }) => vocabulary },
          { title: "Times", numeric: true, show: ({ problems }) => problems.length },
          {
            title: "First at",
            show: ({ problems }) => {
              const at = problems[0];
              return at === undefined
                ? ""
                : `${at.origin.file}, line ${at.origin.line}${at.column === null ? "" : `, ${at.column}`}`;
            },
          },
          {
            title: "It means",
            show: (phrase) => (
              <select
                aria-label={`What “${phrase.phrase}” means`}
                disabled={disabled}
                value={chosen[keyOf(phrase)] ?? ""}
                onChange={(event) => setChosen({ ...chosen, [keyOf(phrase)]: event.currentTarget.value })}
              >
                <option value="">choose…</option>
                {meaningsOf(preview, phrase.vocabulary).map((meaning) => (
                  <option key={String(meaning)} value={String(meaning)}>
                    {meaning === true ? "yes" : meaning === false ? "no" : String(meaning)}
                  </option>
                ))}
                <option value={notWritten}>nothing was written down</option>
              </select>
            ),
          },
        ]}
      />
      <p class="after-list">
        <button type="button" disabled={disabled || count === 0} onClick={give}>
          {count === 1 ? "Remember this word" : count === 0 ? "Remember the words" : `Remember these ${count} words`}
        </button>
      </p>
    </div>
  );
}
