import { useEffect, useRef, useState } from "preact/hooks";

/** What is known of something that is fetched. `slow` is true only after a moment, so quick replies never flicker. */
export interface Loaded<T> {
  /** The newest reply; while a newer one is under way, still the one before it. */
  readonly value: T | null;
  readonly failure: Error | null;
  readonly waiting: boolean;
  readonly slow: boolean;
  readonly again: () => void;
  /** Stops what is under way; that becomes its failure, so that nobody takes an older answer for this one. */
  readonly stop: () => void;
}

const patienceMilliseconds = 250;

/** Fetches whenever `key` changes and drops replies that come too late. A null key fetches nothing. */
export function useLoaded<T>(key: string | null, load: (signal: AbortSignal) => Promise<T>): Loaded<T> {
  const [known, setKnown] = useState<{ key: string | null; value: T | null; failure: Error | null }>({
    key: null,
    value: null,
    failure: null,
  });
  const [slowKey, setSlowKey] = useState<string | null>(null);
  const [attempt, setAttempt] = useState(0);
  const underWay = useRef<AbortController | null>(null);
  const wanted = key === null ? null : `${attempt} ${key}`;

  useEffect(() => {
    if (wanted === null) {
      setKnown({ key: null, value: null, failure: null });
      return;
    }
    const stop = new AbortController();
    underWay.current = stop;
    const timer = setTimeout(() => setSlowKey(wanted), patienceMilliseconds);
    load(stop.signal)
      .then(
        (value) => {
          if (!stop.signal.aborted) setKnown({ key: wanted, value, failure: null });
        },
        (cause: unknown) => {
          if (stop.signal.aborted) return;
          setKnown({ key: wanted, value: null, failure: cause instanceof Error ? cause : new Error(String(cause)) });
        },
      )
      .finally(() => clearTimeout(timer));
    return () => {
      stop.abort();
      clearTimeout(timer);
    };
  }, [wanted]);

  const waiting = wanted !== null && known.key !== wanted;
  return {
    value: wanted === null ? null : known.value,
    failure: waiting ? null : known.failure,
    waiting,
    slow: waiting && slowKey === wanted,
    again: () => setAttempt((count) => count + 1),
    stop: () => {
      if (!waiting) return;
      underWay.current?.abort();
      setKnown({ key: wanted, value: null, failure: new Error("Stopped before the answer was there.") });
    },
  };
}
