import {
  type DropPreview,
  type FieldDescriptor,
  type Problem,
  tableDescriptors,
  type VocabularyName,
} from "../../analysis/index.ts";

export type WordMeaning = string | number | boolean | null;

/** A phrase of the shop that no word list knows, with the places it stands at. */
export interface UnknownPhrase {
  readonly vocabulary: VocabularyName;
  readonly phrase: string;
  readonly problems: readonly Problem[];
}

/** Canonical words of the vocabularies whose meanings the descriptor lists. */
const listed: Partial<Record<VocabularyName, readonly string[]>> = {
  "redress reasons": enumOf(tableDescriptors.redresses.fields, "reason"),
  "pulled because": enumOf(tableDescriptors.runs.fields, "pulled_because"),
  "teardown why": enumOf(tableDescriptors.teardowns.fields, "why"),
  "teardown kind": enumOf(tableDescriptors.teardowns.fields, "kind"),
  "tool status": enumOf(tableDescriptors.tools.fields, "status"),
  "hours kind": enumOf(tableDescriptors.runs.fields, "hours_kind"),
  "pressure test": enumOf(tableDescriptors.redresses.fields, "pressure_test"),
};
const vocabularies: readonly VocabularyName[] = [
  "conditions",
  "items",
  "redress reasons",
  "pulled because",
  "teardown why",
  "teardown kind",
  "tool status",
  "hours kind",
  "pressure test",
  "yes or no",
  "severity",
];

/** Every phrase not known, once, most frequent first. */
export function unknownPhrases({ files }: DropPreview): readonly UnknownPhrase[] {
  const found = new Map<string, UnknownPhrase>();
  for (const problem of files.flatMap((file) => file.problems)) {
    const vocabulary = vocabularies.find((name) => name === problem.facts.vocabulary);
    if (problem.code !== "word-not-known" || vocabulary === undefined || problem.value === null) continue;
    const phrase = problem.value.trim();
    const key = JSON.stringify([vocabulary, phrase.toLowerCase()]);
    const known = found.get(key);
    found.set(key, { vocabulary, phrase, problems: [...(known?.problems ?? []), problem] });
  }
  return [...found.values()].sort((a, b) => b.problems.length - a.problems.length);
}

/** What a phrase may mean: the words its vocabulary leads to already, and those of the drop's own items and modes. */
export function meaningsOf(
  { words, setup }: DropPreview,
  vocabulary: VocabularyName,
): readonly (string | number | boolean)[] {
  const fromSetup = setup.flatMap(({ table, values }) => {
    if (vocabulary === "conditions" && table === "modes") return [values.mode];
    return vocabulary === "items" && table === "tool_items" ? [values.item] : [];
  });
  const meanings = [
    ...(vocabulary === "conditions" ? ["sound"] : []),
    ...(vocabulary === "yes or no" ? [true, false] : []),
    ...(vocabulary === "severity" ? [0, 1, 2, 3, 4, 5] : []),
    ...(listed[vocabulary] ?? []),
    ...Object.values(words.vocabularies[vocabulary] ?? {}),
    ...fromSetup,
  ].filter((value) => typeof value === "string" || typeof value === "number" || typeof value === "boolean");
  return [...new Set(meanings)];
}

function enumOf(fields: readonly FieldDescriptor[], name: string): readonly string[] {
  return fields.find((field) => field.name === name)?.enum ?? [];
}
