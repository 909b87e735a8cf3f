import { useEffect, useState } from "preact/hooks";
import type { DropPreview, ProposedWord, WordList } from "../../../analysis/index.ts";
import { meaningsOf, type WordMeaning } from "../../state/wordChoices.ts";
import { DataTable } from "../parts/DataTable.tsx";
import { MeaningSelect, sayMeaning } from "./MeaningSelect.tsx";

interface ProposedWordsProps {
  readonly preview: DropPreview;
  readonly words: readonly ProposedWord[];
  readonly disabled: boolean;
  readonly onWords: (words: WordList["vocabularies"]) => void;
}

const atFirst = 10;

/** Phrases that the word list does not know, each with the nearest phrase it does know and what it is taken to mean. */
export function ProposedWords({ preview, words, disabled, onWords }: ProposedWordsProps) {
  const [changed, setChanged] = useState<Readonly<Record<string, WordMeaning>>>({});
  const [all, setAll] = useState(false);
  useEffect(() => setChanged({}), [words]);
  const count = Object.keys(changed).length;
  const give = () => {
    const given: Record<string, Record<string, WordMeaning>> = {};
    for (const { vocabulary, phrase } of words)
      if (Object.hasOwn(changed, phrase))
        given[vocabulary] = { ...given[vocabulary], [phrase]: changed[phrase] ?? null };
    onWords(given);
  };
  return (
    <div>
      <DataTable
        caption={`Words for ${words[0]?.vocabulary ?? "them"} that are not known yet`}
        hideCaption
        fill
        rows={all ? words : words.slice(0, atFirst)}
        keyOf={({ phrase }) => phrase}
        picked={({ phrase }) => Object.hasOwn(changed, phrase)}
        columns={[
          { title: "As written", show: ({ phrase }) => <strong>{phrase}</strong> },
          { title: "Times", numeric: true, show: ({ times }) => times },
          {
            title: "Nearest known",
            show: ({ like }) => (like === null ? <span class="muted">none near</span> : `“${like}”`),
          },
          {
            title: "It means",
            show: ({ vocabulary, phrase, means }) => (
              <MeaningSelect
                label={`What “${phrase}” means`}
                meanings={withOwn(meaningsOf(preview, vocabulary), means)}
                value={Object.hasOwn(changed, phrase) ? (changed[phrase] ?? null) : means}
                disabled={disabled}
                onPick={(meaning) => {
                  if (meaning === undefined) return;
                  const { [phrase]: _before, ...others } = changed;
                  setChanged(meaning === means ? others : { ...others, [phrase]: meaning });
                }}
              />
            ),
          },
        ]}
      />
      {words.length > atFirst ? (
        <button type="button" class="plain small" onClick={() => setAll(!all)}>
          {all ? `Only the first ${atFirst}` : `All ${words.length} words`}
        </button>
      ) : null}
      {count === 0 ? null : (
        <p class="after-list">
          <button type="button" disabled={disabled} onClick={give}>
            Read the sheets with {count === 1 ? "this word" : `these ${count} words`}
          </button>{" "}
          <span class="small muted">
            {words
              .filter(({ phrase }) => Object.hasOwn(changed, phrase))
              .slice(0, 3)
              .map(({ phrase }) => `“${phrase}” as ${sayMeaning(changed[phrase] ?? null)}`)
              .join("; ")}
          </span>
        </p>
      )}
    </div>
  );
}

/** The proposal may be a mode of its own, which no list holds yet. */
const withOwn = (meanings: readonly WordMeaning[], own: WordMeaning): readonly WordMeaning[] =>
  own === null || meanings.includes(own) ? meanings : [own, ...meanings];
