import { RequestError } from "../routes/requestError.ts";

type Work<T> = (stop: AbortSignal) => Promise<T>;

/**
 * Lets several callers wait for one computation by key. One caller's signal ends only that caller's wait; the work
 * itself is stopped when nobody waits any longer.
 */
export function shared<T>() {
  const running = new Map<string, { readonly promise: Promise<T>; readonly stop: AbortController; waiting: number }>();

  return async (key: string, signal: AbortSignal | undefined, work: Work<T>): Promise<T> => {
    if (signal?.aborted) throw new RequestError("study-cancelled");
    let entry = running.get(key);
    if (entry === undefined) {
      const stop = new AbortController();
      const promise = work(stop.signal).finally(() => {
        if (running.get(key)?.promise === promise) running.delete(key);
      });
      // Every waiter may have gone before the work fails; its failure is then nobody's.
      promise.catch(() => undefined);
      entry = { promise, stop, waiting: 0 };
      running.set(key, entry);
    }
    const { promise, stop } = entry;
    entry.waiting += 1;
    const joined = entry;
    const leave = () => {
      joined.waiting -= 1;
      if (joined.waiting === 0) {
        stop.abort();
        if (running.get(key) === joined) running.delete(key);
      }
    };
    if (signal === undefined) return promise;
    return new Promise<T>((resolve, reject) => {
      const cancelled = () => {
        leave();
        reject(new RequestError("study-cancelled"));
      };
      signal.addEventListener("abort", cancelled, { once: true });
      promise.then(resolve, reject).finally(() => signal.removeEventListener("abort", cancelled));
    });
  };
}
