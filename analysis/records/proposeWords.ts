import { canonicalItem } from "./canonicalItem.ts";
import type { MappedSheet, ProposedWord, VocabularyName, WordList } from "./mapping.ts";
import { nearestPhrase } from "./nearestPhrase.ts";
import { normalisePhrase } from "./normalisePhrase.ts";

/** What an unknown phrase is taken for where no known phrase is near it. */
const otherwise: { readonly [V in VocabularyName]?: string } = {
  "redress reasons": "not known",
  "pulled because": "not known",
  "teardown why": "not known",
  "tool status": "not known",
};

/**
 * Proposes a meaning for each phrase that the word list does not know: that of the nearest known phrase; else, for a
 * condition, a mode of that name; else "not known" or nothing.
 *
 * @param mapped  Sheets mapped with `words`; their problems name the unknown phrases.
 */
export function proposeWords(mapped: readonly MappedSheet[], words: WordList): readonly ProposedWord[] {
  const unknown = new Map<string, { vocabulary: VocabularyName; phrase: string; times: number }>();
  for (const { code, facts, value } of mapped.flatMap((sheet) => sheet.problems)) {
    const vocabulary = facts.vocabulary as VocabularyName | null | undefined;
    if ((code !== "word-not-known" && code !== "not-yes-or-no") || !vocabulary || value === null) continue;
    const place = JSON.stringify([vocabulary, normalisePhrase(value)]);
    const entry = unknown.get(place) ?? { vocabulary, phrase: value, times: 0 };
    entry.times++;
    unknown.set(place, entry);
  }
  const proposed = [...unknown.values()].map(({ vocabulary, phrase, times }): ProposedWord => {
    const known = words.vocabularies[vocabulary] ?? {};
    const like = nearestPhrase(normalisePhrase(phrase), Object.keys(known), 0.55);
    const fallback = vocabulary === "conditions" ? normalisePhrase(phrase) : (otherwise[vocabulary] ?? null);
    return { vocabulary, phrase, times, like, means: like === null ? fallback : (known[like] ?? null) };
  });
  return [...proposed, ...misspelledItems(mapped)].sort((a, b) => b.times - a.times);
}

/** Items named rarely whose name is nearly that of one named often. */
function misspelledItems(mapped: readonly MappedSheet[]): readonly ProposedWord[] {
  const times = new Map<string, number>();
  for (const { table, values } of mapped.flatMap((sheet) => sheet.lines.flatMap((line) => line.rows))) {
    const item =
      table === "joints" ? values.joint : table === "runs" ? values.item_seen : table === "modes" ? null : values.item;
    if (typeof item === "string" && item !== "") times.set(item, (times.get(item) ?? 0) + 1);
  }
  const listed = new Set(
    mapped.flatMap((sheet) =>
      sheet.lines.flatMap((line) =>
        line.rows.filter((row) => row.table === "tool_items").map((row) => String(row.values.item)),
      ),
    ),
  );
  return [...times].flatMap(([item, count]): readonly ProposedWord[] => {
    if (listed.has(item) || /^J\d+$/.test(item)) return [];
    const others = [...times]
      .filter(([other, often]) => other !== item && (listed.has(other) || often >= 10 * count))
      .map(([other]) => other);
    const like = nearestPhrase(item, others, 0.7);
    return like === null ? [] : [{ vocabulary: "items", phrase: item, times: count, like, means: canonicalItem(like) }];
  });
}
