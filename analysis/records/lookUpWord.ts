import type { VocabularyName, WordList } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";

/**
 * What a phrase means in one vocabulary, or undefined where the word list does not know it. Null means "not written
 * down". A phrase that is already one of the vocabulary's meanings ("back-off") means itself.
 */
export function lookUpWord(
  words: WordList,
  vocabulary: VocabularyName,
  phrase: string,
): string | number | boolean | null | undefined {
  const known = words.vocabularies[vocabulary];
  if (known === undefined) return undefined;
  const normal = normalisePhrase(phrase);
  if (Object.hasOwn(known, normal)) return known[normal];
  return meaningsOf(known).get(normal);
}

const meaningsCache = new WeakMap<object, ReadonlyMap<string, string>>();

function meaningsOf(known: Readonly<Record<string, string | number | boolean | null>>): ReadonlyMap<string, string> {
  let meanings = meaningsCache.get(known);
  if (meanings === undefined) {
    const texts = Object.values(known).filter((meaning) => typeof meaning === "string");
    meanings = new Map(texts.map((meaning) => [normalisePhrase(meaning), meaning]));
    meaningsCache.set(known, meanings);
  }
  return meanings;
}
