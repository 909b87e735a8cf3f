/** What a shop knows of its sheets and tools, as one file that another store takes in. All JSON. */
import type { Row } from "../records/descriptor.ts";
import type { Mapping, Problem, VocabularyName, WordList } from "../records/mapping.ts";
import type { StoredBatch } from "./api.ts";
import type { FormPreview } from "./recordsApi.ts";

/** Tables that say what the shop's tools are made of and how they fail. */
export const setupTables = ["tool_items", "modes", "compounds"] as const;
export type SetupTable = (typeof setupTables)[number];

/** GET /api/setup, and `setup export FILE`. A part left out stays as it is where the file is brought in. */
export interface SetupBundle {
  readonly afterrunSetup: 1;
  /** The shop's phrases and what they mean. */
  readonly words?: WordList["vocabularies"];
  readonly mappings?: readonly Mapping[];
  readonly tables?: { readonly [T in SetupTable]?: readonly Row<T>[] };
}

/** Body of POST /api/setup. */
export type SetupEntry = SetupBundle & { readonly who?: string };

type Meaning = string | number | boolean | null;

/** A phrase whose meaning is added or changed. */
export interface WordChange {
  readonly vocabulary: VocabularyName;
  readonly phrase: string;
  readonly what: "new" | "changed";
  /** Null where it is new, or meant "not written down". */
  readonly was: Meaning;
  readonly becomes: Meaning;
}

/** POST /api/setup; with `?preview=true` nothing is stored. */
export interface SetupReply {
  readonly words: readonly WordChange[];
  readonly mappings: readonly {
    readonly fingerprint: string;
    readonly name: string;
    readonly what: "new" | "changed" | "unchanged";
  }[];
  readonly rows: FormPreview["rows"];
  /** An error keeps the file from being stored; a notice does not. */
  readonly problems: readonly Problem[];
  readonly ready: boolean;
  /** Null for a preview, and where nothing would change. */
  readonly stored: StoredBatch | null;
}
