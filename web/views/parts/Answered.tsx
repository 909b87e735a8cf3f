import type { ComponentChildren } from "preact";
import type { Loaded } from "../../state/useLoaded.ts";
import { Failure, Waiting } from "./States.tsx";

interface AnsweredProps<T> {
  readonly loaded: Loaded<T>;
  /** What is going on, where it takes a moment. */
  readonly waitingWords: string;
  readonly failureTitle: string;
  readonly children: (value: T) => ComponentChildren;
}

/** A question on its way to an answer. The answer before it stays, faded, until the new one is there. */
export function Answered<T>({ loaded, waitingWords, failureTitle, children }: AnsweredProps<T>) {
  if (loaded.failure !== null) return <Failure title={failureTitle} failure={loaded.failure} again={loaded.again} />;
  if (loaded.value === null)
    return (
      <Waiting slow={loaded.slow} stop={loaded.stop}>
        {waitingWords}
      </Waiting>
    );
  return (
    <>
      <div class={loaded.slow ? "stale" : undefined} aria-busy={loaded.waiting}>
        {children(loaded.value)}
      </div>
      <div class="working">
        <span aria-live="polite">{loaded.slow ? waitingWords : ""}</span>
        {loaded.slow ? (
          <button type="button" onClick={loaded.stop}>
            Stop
          </button>
        ) : null}
      </div>
    </>
  );
}
