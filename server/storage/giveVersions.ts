import { canonicalJson } from "./canonicalJson.ts";
import type { Mapping, WordList } from "./types.ts";

/**
 * Numbers the mappings of a batch: one that equals the newest stored of its fingerprint takes its version, any other
 * the next. The store gives the numbers, so that one number never means two things.
 */
export function giveMappingVersions(newest: readonly Mapping[], given: readonly Mapping[]): readonly Mapping[] {
  const known = new Map(newest.map((mapping) => [mapping.fingerprint, mapping]));
  return given.map((mapping) => {
    const stored = known.get(mapping.fingerprint);
    const same = stored !== undefined && withoutVersion(stored) === withoutVersion(mapping);
    const numbered = same ? stored : { ...mapping, version: (stored?.version ?? 0) + 1 };
    known.set(mapping.fingerprint, numbered);
    return numbered;
  });
}

/** The same for the word list. */
export function giveWordsVersion(newest: WordList, given: WordList): WordList {
  return withoutVersion(newest) === withoutVersion(given) && newest.version > 0
    ? newest
    : { ...given, version: newest.version + 1 };
}

const withoutVersion = (versioned: Mapping | WordList): string => canonicalJson({ ...versioned, version: 0 });
