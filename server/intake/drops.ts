import { randomUUID } from "node:crypto";
import {
  type DropAnswers,
  type DropPreview,
  type DropProgress,
  type DropReading,
  nameOfSheet,
  type Records,
  type StoredBatch,
  withGone,
} from "../../analysis/index.ts";
import { RequestError } from "../routes/requestError.ts";
import type { Store } from "../storage/store.ts";
import type { DropPool, PooledReading, SetAsideSheet } from "../work/dropPool.ts";
import type { DropContext, DropHead, Progress } from "../work/dropTasks.ts";
import { type Draft, type DroppedFile, mergeAnswers } from "./draft.ts";

export interface DropLimits {
  readonly fileBytes: number;
  readonly files: number;
  /** All files of a drop together. */
  readonly dropBytes: number;
  /** A JSON body. */
  readonly bodyBytes: number;
  /** Drops waiting to be stored. */
  readonly drops: number;
  /** A drop nobody touched for so long is forgotten. */
  readonly keepMs: number;
}

export const usualDropLimits: DropLimits = {
  fileBytes: 32_000_000,
  files: 60,
  dropBytes: 100_000_000,
  bodyBytes: 5_000_000,
  drops: 20,
  keepMs: 12 * 3_600_000,
};

/** What a look at a drop finds: still being read, or what it would store. */
export type DropLook = DropProgress | DropPreview;

export interface Drops {
  /** Takes the files and begins to read them. `preview` fails where they cannot be read, and the drop is then forgotten. */
  start(files: readonly DroppedFile[]): { readonly progress: DropProgress; readonly preview: Promise<DropPreview> };
  /** Where a drop stands; what went wrong with one that nobody waited for is thrown once. */
  look(id: string): Promise<DropLook>;
  /** Calls `onProgress` until the drop is read, and then gives its preview. */
  watch(id: string, onProgress: (progress: DropProgress) => void, signal: AbortSignal): Promise<DropPreview>;
  answer(id: string, answers: DropAnswers): Promise<DropPreview>;
  /** Forgets a drop, and stops its reading. */
  takeBack(id: string): void;
  store(id: string, who: string): Promise<StoredBatch>;
  /** The lines of a sheet that are set aside, to be saved, repaired and dropped again. */
  setAside(id: string, file: string, tab: string | null): Promise<SetAsideSheet>;
}

export interface DropsOptions {
  readonly store: Store;
  readonly pool: DropPool;
  readonly clock: () => Date;
  readonly limits?: DropLimits;
}

interface Reading {
  readonly stop: AbortController;
  readonly done: Promise<PooledPreview>;
  progress: Progress;
  readonly watchers: Set<(progress: DropProgress) => void>;
}

interface PooledPreview {
  readonly reading: PooledReading;
  readonly head: DropHead;
  /** Names what the drop was read against: while it stays the same, so does the preview. */
  readonly against: string;
}

interface Entry {
  draft: Draft;
  current: Reading | null;
  last: PooledPreview | null;
  failure: unknown;
}

/**
 * Drops between being dropped and being stored, kept in memory. They are read in a worker, with progress, and can be
 * taken back meanwhile. A look reads the files again where something else was stored since, so a drop stays right while
 * another one is stored.
 *
 * Errors  "drop-not-found", "too-many-drops", "drop-not-ready" while a confirmation is open, "drop-being-stored",
 *         "drop-being-read", "drop-cancelled", and what the reader refuses.
 */
export function createDrops({ store, pool, clock, limits = usualDropLimits }: DropsOptions): Drops {
  const entries = new Map<string, Entry>();
  const beingStored = new Set<string>();

  function forget(id: string): void {
    entries.get(id)?.current?.stop.abort();
    entries.delete(id);
  }

  function forgetOld(): void {
    const oldest = clock().getTime() - limits.keepMs;
    for (const { draft } of [...entries.values()])
      if (draft.touchedAt < oldest && !beingStored.has(draft.id)) forget(draft.id);
  }

  function entryOf(id: string): Entry {
    forgetOld();
    const entry = entries.get(id);
    if (entry === undefined) throw new RequestError("drop-not-found", { id: id.slice(0, 60) });
    return entry;
  }

  function idleEntryOf(id: string): Entry {
    const entry = entryOf(id);
    if (beingStored.has(id)) throw new RequestError("drop-being-stored");
    if (entry.current !== null) throw new RequestError("drop-being-read", { share: entry.current.progress.share });
    return entry;
  }

  /** Begins to read a draft; one reading a drop at a time. */
  function begin(entry: Entry, draft: Draft): Reading {
    const stop = new AbortController();
    const reading: Reading = {
      stop,
      progress: { stage: "waiting", rows: 0, rowsInAll: null, share: 0 },
      watchers: new Set(),
      done: readPooled(draft, store, pool, stop.signal, (progress) => {
        reading.progress = progress;
        for (const watcher of reading.watchers) watcher(progressOf(draft.id, reading));
      })
        .then((read) => {
          entry.last = read;
          return read;
        })
        .finally(() => {
          entry.current = null;
        }),
    };
    reading.done.catch(() => undefined);
    entry.current = reading;
    return reading;
  }

  /** What the drop comes to now: what was read last, or read again where something else was stored since. */
  async function upToDate(entry: Entry): Promise<PooledPreview> {
    if (entry.last !== null && entry.last.against === (await contextOf(store)).against) return entry.last;
    return await (entry.current ?? begin(entry, entry.draft)).done;
  }

  return {
    start(files) {
      forgetOld();
      if (entries.size >= limits.drops) throw new RequestError("too-many-drops", { drops: entries.size });
      const draft: Draft = { id: randomUUID(), files, answers: {}, touchedAt: clock().getTime() };
      const entry: Entry = { draft, current: null, last: null, failure: null };
      entries.set(draft.id, entry);
      const reading = begin(entry, draft);
      const preview = reading.done.then(({ head }) => previewOf(draft.id, head));
      preview.catch((error: unknown) => {
        entry.failure = error;
      });
      return { progress: progressOf(draft.id, reading), preview };
    },
    async look(id) {
      const entry = entryOf(id);
      if (entry.current !== null) return progressOf(id, entry.current);
      if (entry.failure !== null) {
        forget(id);
        throw entry.failure;
      }
      return previewOf(id, (await upToDate(entry)).head);
    },
    async watch(id, onProgress, signal) {
      const entry = entryOf(id);
      const reading = entry.current;
      if (reading !== null) {
        reading.watchers.add(onProgress);
        signal.addEventListener("abort", () => reading.watchers.delete(onProgress), { once: true });
        onProgress(progressOf(id, reading));
        await reading.done.catch(() => undefined);
      }
      if (entry.failure !== null) {
        forget(id);
        throw entry.failure;
      }
      return previewOf(id, (await upToDate(entry)).head);
    },
    async answer(id, added) {
      const entry = idleEntryOf(id);
      refuseUnknownSheets(added, entry);
      const { draft } = entry;
      const answered = { ...draft, answers: mergeAnswers(draft.answers, added), touchedAt: clock().getTime() };
      const before = entry.last;
      try {
        const { head } = await begin(entry, answered).done;
        entry.draft = answered;
        return previewOf(id, head);
      } catch (error) {
        // An edited mapping that makes no sense leaves the drop as it was.
        entry.last = before;
        throw error;
      }
    },
    takeBack(id) {
      entryOf(id);
      if (beingStored.has(id)) throw new RequestError("drop-being-stored");
      forget(id);
    },
    async store(id, who) {
      const entry = idleEntryOf(id);
      beingStored.add(id);
      try {
        const { head, reading } = await upToDate(entry);
        const open = head.confirmations.filter((confirmation) => !confirmation.answered);
        if (!head.ready)
          throw new RequestError("drop-not-ready", { open: open.length, question: open[0]?.question ?? "" });
        const mapped = await reading.rows();
        const { files } = entry.draft;
        const batch = await storeReading({ reading: { ...head, mapped }, files, who, when: clock(), store });
        forget(id);
        return batch;
      } finally {
        beingStored.delete(id);
      }
    },
    async setAside(id, file, tab) {
      const entry = idleEntryOf(id);
      const { head, reading } = await upToDate(entry);
      const index = head.files.findIndex((each) => each.file === file && each.sheet === tab);
      if (index < 0) throw new RequestError("sheet-not-found", { file: file.slice(0, 150), tab });
      return await reading.setAside(index);
    },
  };
}

interface Context extends DropContext {
  readonly records: Records;
  readonly against: string;
}

/** What a drop is read against at this moment. */
async function contextOf(store: Store): Promise<Context> {
  const [remembered, words, { records, dataHash }] = await Promise.all([
    store.rememberedMappings(),
    store.words(),
    store.loadRecords(),
  ]);
  const mappings = remembered.map(({ fingerprint, version }) => [fingerprint, version]);
  return { remembered, words, records, dataHash, against: JSON.stringify([dataHash, words.version, mappings]) };
}

async function readPooled(
  { files, answers }: Draft,
  store: Store,
  pool: DropPool,
  signal: AbortSignal,
  onProgress: (progress: Progress) => void,
): Promise<PooledPreview> {
  const { records, against, ...context } = await contextOf(store);
  if (signal.aborted) throw new RequestError("drop-cancelled");
  const reading = await pool.read({ files, answers, context, records, signal, onProgress });
  const missing = reading.head.missing.flatMap(({ rows }) => rows);
  if (missing.length === 0) return { reading, head: reading.head, against };
  const { lines, ...rest } = reading.head;
  const { mapped: _none, ...head } = withGone({ ...rest, mapped: [] }, await store.rowsByRef(missing), answers);
  return { reading, head: { ...head, lines }, against };
}

const progressOf = (id: string, { progress }: Reading): DropProgress => ({ id, state: "reading", ...progress });

export interface StoreReadingOptions {
  readonly reading: DropReading;
  readonly files: readonly DroppedFile[];
  readonly who: string;
  readonly when: Date;
  readonly store: Store;
}

/** Stores a drop that was read and confirmed: files, rows, words and setup as one batch. */
export function storeReading({ reading, files, who, when, store }: StoreReadingOptions): Promise<StoredBatch> {
  return store.storeBatch({
    who,
    when: when.toISOString(),
    files,
    sheets: reading.mapped,
    words: reading.words,
    setup: reading.setup,
    linkProblems: reading.linkProblems,
  });
}

function refuseUnknownSheets({ mappings = {} }: DropAnswers, { draft, last }: Entry): void {
  const names = new Set([...draft.files.map(({ file }) => file), ...(last?.head.files ?? []).map(nameOfSheet)]);
  const unknown = Object.keys(mappings).find((name) => !names.has(name));
  if (unknown !== undefined)
    throw new RequestError("bad-body", {
      place: `mappings.${unknown.slice(0, 150)}`,
      problem: "no file of this drop has that name",
    });
}

/** Nobody reads more than the first of them. */
const mostListed = 2_000;

function previewOf(id: string, { lines: _lines, missing: _missing, ...preview }: DropHead): DropPreview {
  const { linkProblems } = preview;
  if (linkProblems.length <= mostListed) return { id, ...preview };
  return {
    id,
    ...preview,
    linkProblems: linkProblems.slice(0, mostListed),
    linkProblemsInAll: linkProblems.length,
  };
}
