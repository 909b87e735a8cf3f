import { useEffect, useRef, useState } from "preact/hooks";
import type { DropAnswers, DropPreview, DropProgress, PastedSheet, StoredBatch } from "../../analysis/index.ts";
import { answerDrop, sendFiles, sendPasted, storeDrop, takeDropBack, watchDrop } from "./dropRequests.ts";
import { initials } from "./initials.ts";
import { changed, goTo, move, place } from "./navigation.ts";
import { loadShopState } from "./shopState.ts";

/** Where a drop stands on the page. */
export type DropStep =
  | { readonly at: "start"; readonly told: string | null }
  | { readonly at: "reading"; readonly what: string; readonly progress: DropProgress | null }
  | {
      readonly at: "preview";
      readonly preview: DropPreview;
      readonly busy: string | null;
      readonly share: number | null;
    }
  | { readonly at: "stored"; readonly batch: StoredBatch; readonly preview: DropPreview }
  | { readonly at: "lost"; readonly failure: Error };

export interface DropInHand {
  readonly step: DropStep;
  /** What went wrong with the last thing asked for; the step stays what it was. */
  readonly trouble: Error | null;
  readonly start: (files: readonly File[]) => void;
  readonly paste: (sheet: PastedSheet) => void;
  readonly answer: (answers: DropAnswers) => void;
  readonly store: () => void;
  /** Stops the reading, or forgets what was read. */
  readonly takeBack: () => void;
  readonly again: () => void;
}

const nothing: DropStep = { at: "start", told: null };

/** A drop from its files to the stored batch. Its address can be reloaded at any moment: the server holds the drop. */
export function useDrop(): DropInHand {
  const { drop } = place.value;
  const [step, setStep] = useState<DropStep>(nothing);
  const [trouble, setTrouble] = useState<Error | null>(null);
  const held = useRef<string | null>(null);
  const stop = useRef<AbortController | null>(null);

  /** Runs what can be stopped; what it finds counts only while nothing newer was begun. */
  const run = async (
    task: (signal: AbortSignal, current: () => boolean) => Promise<void>,
    failed: (e: Error) => void,
  ) => {
    stop.current?.abort();
    const mine = new AbortController();
    stop.current = mine;
    setTrouble(null);
    try {
      await task(mine.signal, () => stop.current === mine);
    } catch (cause) {
      if (!mine.signal.aborted) failed(cause instanceof Error ? cause : new Error(String(cause)));
    }
  };

  const send = (what: string, sending: (signal: AbortSignal) => Promise<DropProgress>) =>
    void run(
      async (signal) => {
        setStep({ at: "reading", what, progress: null });
        const first = await sending(signal);
        held.current = first.id;
        move({ drop: first.id });
        const preview = await watchDrop(first.id, (progress) => setStep({ at: "reading", what, progress }), signal);
        setStep({ at: "preview", preview, busy: null, share: null });
      },
      (failure) => {
        held.current = null;
        setStep(nothing);
        setTrouble(failure);
        move({ drop: null });
      },
    );

  useEffect(() => {
    // The address may have moved on since this was drawn: a drop refused at once is gone from it again.
    if (drop === held.current || drop !== place.peek().drop) return;
    held.current = drop;
    if (drop === null) {
      stop.current?.abort();
      setStep(nothing);
      return;
    }
    void run(
      async (signal) => {
        setStep({ at: "reading", what: "Looking the drop up", progress: null });
        const told = (progress: DropProgress) => setStep({ at: "reading", what: "Reading the sheets", progress });
        const preview = await watchDrop(drop, told, signal);
        setStep({ at: "preview", preview, busy: null, share: null });
      },
      (failure) => setStep({ at: "lost", failure }),
    );
  }, [drop]);
  useEffect(() => () => stop.current?.abort(), []);

  const preview = step.at === "preview" ? step.preview : null;
  const work = (busy: string, task: (shown: DropPreview, signal: AbortSignal) => Promise<DropStep>) => {
    if (preview === null) return;
    void run(
      async (signal, current) => {
        setStep({ at: "preview", preview, busy, share: null });
        const next = await task(preview, signal);
        if (current()) setStep(next);
      },
      (failure) => {
        setTrouble(failure);
        setStep({ at: "preview", preview, busy: null, share: null });
      },
    );
  };
  return {
    step,
    trouble,
    start: (files) =>
      send(files.length === 1 ? "Reading the sheet" : `Reading ${files.length} files`, (signal) =>
        sendFiles(files, signal),
      ),
    paste: (sheet) => send("Reading what was pasted", (signal) => sendPasted(sheet, signal)),
    answer: (answers) => {
      const busy = "Reading the sheets again with your answer";
      work(busy, async (shown, signal) => {
        const watching = new AbortController();
        signal.addEventListener("abort", () => watching.abort(), { once: true });
        const tell = ({ share }: DropProgress) => setStep({ at: "preview", preview: shown, busy, share });
        const answered = answerDrop(shown.id, answers);
        // How far it is, where it takes a while; the answer itself is what counts.
        const patience = setTimeout(() => watchDrop(shown.id, tell, watching.signal).catch(() => undefined), 500);
        try {
          return { at: "preview", preview: await answered, busy: null, share: null };
        } finally {
          clearTimeout(patience);
          watching.abort();
        }
      });
    },
    store: () =>
      work("Storing", async (shown) => {
        const batch = await storeDrop(shown.id, initials.value);
        await loadShopState();
        // The drop is no longer held; its address would lead nowhere.
        held.current = null;
        goTo(changed(place.value, { drop: null }), { replace: true });
        return { at: "stored", batch, preview: shown };
      }),
    takeBack: () => {
      const id = held.current;
      held.current = null;
      stop.current?.abort();
      setTrouble(null);
      setStep({ at: "start", told: "Taken back. Nothing was stored." });
      move({ drop: null });
      if (id !== null)
        void takeDropBack(id).catch((cause: unknown) => setTrouble(cause instanceof Error ? cause : null));
    },
    again: () => {
      held.current = null;
      setStep(nothing);
      move({ drop: null });
    },
  };
}
