import type { DropAnswers, Mapping, WordList } from "../../analysis/index.ts";

/** A file as it was dropped, under the name it goes by in this drop. */
export interface DroppedFile {
  readonly file: string;
  readonly bytes: Uint8Array;
}

/** A drop that is being looked at; nothing of it is stored. */
export interface Draft {
  readonly id: string;
  readonly files: readonly DroppedFile[];
  readonly answers: DropAnswers;
  readonly touchedAt: number;
}

type Vocabularies = WordList["vocabularies"];

/** Later answers add to the earlier ones; a mapping, a word or the setup given again takes the place of the former. */
export function mergeAnswers(before: DropAnswers, added: DropAnswers): DropAnswers {
  const mappings: Readonly<Record<string, Mapping>> = { ...before.mappings, ...added.mappings };
  const setup = added.setup ?? before.setup;
  return {
    confirm: [...new Set([...(before.confirm ?? []), ...(added.confirm ?? [])])],
    mappings,
    words: mergeVocabularies(before.words ?? {}, added.words ?? {}),
    ...(setup === undefined ? {} : { setup }),
  };
}

/** All phrases of both, vocabulary by vocabulary; where both hold a phrase, the later meaning counts. */
export function mergeVocabularies(before: Vocabularies, later: Vocabularies): Vocabularies {
  const all = new Map(Object.entries(before));
  for (const [name, phrases] of Object.entries(later)) all.set(name, { ...all.get(name), ...phrases });
  return Object.fromEntries(all);
}
