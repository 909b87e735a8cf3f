import {
  checkMapping,
  type FormEntry,
  type Mapping,
  normalisePhrase,
  type Records,
  type SetupBundle,
  type SetupReply,
  setupTables,
  type VocabularyName,
  type WordChange,
  type WordList,
} from "../../analysis/index.ts";
import { RequestError } from "../routes/requestError.ts";
import { canonicalJson } from "../storage/canonicalJson.ts";
import type { Store } from "../storage/store.ts";
import { mergeVocabularies } from "./draft.ts";
import { formSheets } from "./formSheets.ts";
import { previewForm } from "./previewForm.ts";

/** Words, mappings and lists of a store, as one file. Rows are as the sheets and forms say. */
export async function setupOf(store: Store): Promise<SetupBundle> {
  const [words, mappings, { records }] = await Promise.all([
    store.words(),
    store.rememberedMappings(),
    store.loadRecords(),
  ]);
  const { tool_items = [], modes = [], compounds = [] } = records;
  return { afterrunSetup: 1, words: words.vocabularies, mappings, tables: { tool_items, modes, compounds } };
}

export interface BringSetupOptions {
  readonly bundle: SetupBundle;
  readonly store: Store;
  readonly when: Date;
  /** Who brings it in; null only looks at what it would do. */
  readonly who: string | null;
}

/**
 * Takes a setup file in, as one batch like any drop: rows are compared by key, words and mappings take the place of those of
 * the same phrase and shape. Nothing that the file does not name is changed.
 *
 * Errors  "bad-mapping"; "form-not-ready" where a row cannot be stored
 */
export async function bringSetup({ bundle, store, when, who }: BringSetupOptions): Promise<SetupReply> {
  const [words, remembered, { records }] = await Promise.all([
    store.words(),
    store.rememberedMappings(),
    store.loadRecords(),
  ]);
  const brought = normalised(bundle.words ?? {});
  const vocabularies = mergeVocabularies(words.vocabularies, brought);
  const merged: WordList = { ...words, vocabularies };
  for (const mapping of bundle.mappings ?? []) checkMapping(mapping, merged);

  const name = `setup ${who ?? "preview"} ${when.toISOString().slice(0, 16).replace("T", " ").replace(":", ".")}`;
  const form = formSheets(entriesOf(bundle), name, records as Records);
  const preview = await previewForm(form, store);
  const mappings = (bundle.mappings ?? []).map((mapping) => compareMapping(mapping, remembered));
  const ready = form.problems.every(({ severity }) => severity !== "error");
  const reply = {
    words: wordChanges(words.vocabularies, brought),
    mappings: mappings.map(({ mapping, what }) => ({ fingerprint: mapping.fingerprint, name: mapping.name, what })),
    rows: preview.rows,
    problems: form.problems,
    ready,
  };
  const fresh = mappings.filter(({ what }) => what !== "unchanged").map(({ mapping }) => mapping);
  const changes = reply.words.length + fresh.length + reply.rows.filter(({ what }) => what !== "unchanged").length;
  if (who === null) return { ...reply, stored: null };
  if (!ready) {
    const first = form.problems.find(({ severity }) => severity === "error");
    throw new RequestError("form-not-ready", {
      column: first?.column ?? null,
      value: first?.value ?? null,
      problem: first?.code ?? null,
    });
  }
  if (changes === 0) return { ...reply, stored: null };
  // The file itself is kept beside its tables: it is what was brought in, words and mappings included.
  const whole = { file: `${name}.json`, bytes: new TextEncoder().encode(`${JSON.stringify(bundle, null, 1)}\n`) };
  const stored = await store.storeBatch({
    who,
    when: when.toISOString(),
    files: [whole, ...form.files],
    sheets: form.sheets,
    words: merged,
    setup: [],
    remember: fresh,
    linkProblems: form.problems.filter(({ code }) => code === "link-not-found"),
  });
  return { ...reply, stored };
}

const entriesOf = ({ tables = {} }: SetupBundle): readonly FormEntry[] =>
  setupTables.flatMap((table) => (tables[table] ?? []).map((values): FormEntry => ({ table, values: { ...values } })));

/** Phrases as a sheet's cells are looked up. */
const normalised = (vocabularies: WordList["vocabularies"]): WordList["vocabularies"] =>
  Object.fromEntries(
    Object.entries(vocabularies).map(([vocabulary, phrases]) => [
      vocabulary,
      Object.fromEntries(Object.entries(phrases).map(([phrase, meaning]) => [normalisePhrase(phrase), meaning])),
    ]),
  );

function wordChanges(before: WordList["vocabularies"], brought: WordList["vocabularies"]): readonly WordChange[] {
  return Object.entries(brought).flatMap(([name, phrases]) => {
    const vocabulary = name as VocabularyName;
    const known = before[vocabulary] ?? {};
    return Object.entries(phrases).flatMap(([phrase, becomes]): WordChange[] => {
      if (!Object.hasOwn(known, phrase)) return [{ vocabulary, phrase, what: "new", was: null, becomes }];
      const was = known[phrase] ?? null;
      return was === becomes ? [] : [{ vocabulary, phrase, what: "changed", was, becomes }];
    });
  });
}

function compareMapping(mapping: Mapping, remembered: readonly Mapping[]) {
  const known = remembered.find(({ fingerprint }) => fingerprint === mapping.fingerprint);
  const said = (one: Mapping) => canonicalJson({ ...one, version: 0 });
  const what: SetupReply["mappings"][number]["what"] =
    known === undefined ? "new" : said(known) === said(mapping) ? "unchanged" : "changed";
  return { mapping, what };
}
