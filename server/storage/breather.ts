import { setImmediate as nextTurn } from "node:timers/promises";

/** Called between the pieces of long work; gives something to wait for where other requests have waited long enough. */
export type Breather = () => Promise<void> | undefined;

const turnMs = 12;

/**
 * Gives the event loop back during long work in this process: every piece of work shorter than a moment, and a turn for
 * whatever else has come in between. Cheap enough to be called for each row: `const due = breathe(); if (due) await due;`
 */
export function breather(): Breather {
  let since = performance.now();
  return () => {
    if (performance.now() - since < turnMs) return undefined;
    return nextTurn().then(() => {
      since = performance.now();
    });
  };
}
