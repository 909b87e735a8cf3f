import { randomUUID } from "node:crypto";
import type { DropAnswers, DropPreview, DropReading, StoredBatch } from "../../analysis/index.ts";
import { RequestError } from "../routes/requestError.ts";
import type { Store } from "../storage/store.ts";
import { type Draft, type DroppedFile, mergeAnswers } from "./draft.ts";
import { readDrop } from "./readDrop.ts";

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

export interface Drops {
  start(files: readonly DroppedFile[]): Promise<DropPreview>;
  preview(id: string): Promise<DropPreview>;
  answer(id: string, answers: DropAnswers): Promise<DropPreview>;
  takeBack(id: string): void;
  store(id: string, who: string): Promise<StoredBatch>;
}

export interface DropsOptions {
  readonly store: Store;
  readonly clock: () => Date;
  readonly limits?: DropLimits;
}

/**
 * Drops between being dropped and being stored, kept in memory. Each look reads the files again, against what is
 * stored at that moment, so a drop stays right while another one is stored.
 *
 * Errors  "drop-not-found", "too-many-drops", "drop-not-ready" while a confirmation is open, "drop-being-stored".
 */
export function createDrops({ store, clock, limits = usualDropLimits }: DropsOptions): Drops {
  const drafts = new Map<string, Draft>();
  const beingStored = new Set<string>();

  function forgetOld(): void {
    const oldest = clock().getTime() - limits.keepMs;
    for (const { id, touchedAt } of drafts.values()) if (touchedAt < oldest && !beingStored.has(id)) drafts.delete(id);
  }

  function draftOf(id: string): Draft {
    forgetOld();
    const draft = drafts.get(id);
    if (draft === undefined) throw new RequestError("drop-not-found", { id: id.slice(0, 60) });
    return draft;
  }

  function idleDraftOf(id: string): Draft {
    const draft = draftOf(id);
    if (beingStored.has(id)) throw new RequestError("drop-being-stored");
    return draft;
  }

  const read = ({ files, answers }: Draft): Promise<DropReading> => readDrop(files, answers, store);

  return {
    async start(files) {
      forgetOld();
      if (drafts.size >= limits.drops) throw new RequestError("too-many-drops", { drops: drafts.size });
      const draft: Draft = { id: randomUUID(), files, answers: {}, touchedAt: clock().getTime() };
      const reading = await read(draft);
      drafts.set(draft.id, draft);
      return previewOf(draft.id, reading);
    },
    async preview(id) {
      return previewOf(id, await read(draftOf(id)));
    },
    async answer(id, added) {
      const draft = idleDraftOf(id);
      refuseUnknownFiles(added, draft);
      const answered = { ...draft, answers: mergeAnswers(draft.answers, added), touchedAt: clock().getTime() };
      // Kept only where it can be read: an edited mapping that makes no sense leaves the drop as it was.
      const reading = await read(answered);
      drafts.set(id, answered);
      return previewOf(id, reading);
    },
    takeBack(id) {
      idleDraftOf(id);
      drafts.delete(id);
    },
    async store(id, who) {
      const draft = idleDraftOf(id);
      beingStored.add(id);
      try {
        const reading = await read(draft);
        const open = reading.confirmations.filter((confirmation) => !confirmation.answered);
        if (!reading.ready)
          throw new RequestError("drop-not-ready", { open: open.length, question: open[0]?.question ?? "" });
        const batch = await storeReading({ reading, files: draft.files, who, when: clock(), store });
        drafts.delete(id);
        return batch;
      } finally {
        beingStored.delete(id);
      }
    },
  };
}

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

function refuseUnknownFiles({ mappings = {} }: DropAnswers, { files }: Draft): void {
  const unknown = Object.keys(mappings).find((name) => files.every(({ file }) => file !== name));
  if (unknown !== undefined)
    throw new RequestError("bad-body", {
      place: `mappings.${unknown.slice(0, 150)}`,
      problem: "no file of this drop has that name",
    });
}

function previewOf(id: string, { mapped: _stored, ...reading }: DropReading): DropPreview {
  return { id, ...reading };
}
