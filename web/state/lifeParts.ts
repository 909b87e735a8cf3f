/** Long parts of the answer about an item's life, with their progress. */
import { useEffect, useState } from "preact/hooks";
import type { GroupBy, LifePart } from "../../analysis/index.ts";
import { type Place, writeQuestion } from "./place.ts";
import { RequestFailure } from "./request.ts";
import { eventsOf } from "./serverEvents.ts";

export const partPath = (place: Place, kind: "checks" | "looks"): string =>
  `/api/item-life/${kind}?${writeQuestion(place)}`;

export function groupsPath(place: Place, by: GroupBy, first: string | null, second: string | null): string {
  const parameters = writeQuestion(place);
  parameters.set("by", by);
  if (first !== null) parameters.set("first", first);
  if (second !== null) parameters.set("second", second);
  return `/api/item-life/groups?${parameters}`;
}

/**
 * A part, once it is there.
 *
 * Errors  What the server refuses, in its words; "no-answer" where the connection ends early.
 */
export async function watchPart<P extends LifePart>(
  path: string,
  onShare: (share: number) => void,
  signal: AbortSignal,
): Promise<P> {
  for await (const { event, data } of eventsOf(path, signal)) {
    if (event === "progress") onShare((JSON.parse(data) as { readonly share: number }).share);
    if (event === "part") return JSON.parse(data) as P;
    if (event === "error") {
      const { error } = JSON.parse(data) as { readonly error: { readonly code: string; readonly message: string } };
      throw new RequestFailure(error.message, 200, error.code);
    }
  }
  throw new RequestFailure(
    "Afterrun stopped answering on the way. Check that it is still running, then ask again.",
    0,
    "no-answer",
  );
}

export type PartState<P> =
  | { readonly state: "not asked"; readonly ask: () => void }
  | { readonly state: "on its way"; readonly share: number; readonly cancel: () => void }
  | { readonly state: "there"; readonly value: P }
  | { readonly state: "failed"; readonly failure: Error; readonly ask: () => void };

/** A part of the present question; asked for by the reader, given up where the question changes or the reader cancels. */
export function useLifePart<P extends LifePart>(path: string, askedAtOnce: boolean): PartState<P> {
  const [asked, setAsked] = useState<string | null>(askedAtOnce ? path : null);
  const [share, setShare] = useState(0);
  const [known, setKnown] = useState<{ path: string; value: P | null; failure: Error | null } | null>(null);
  useEffect(() => {
    if (askedAtOnce) setAsked(path);
  }, [path, askedAtOnce]);

  useEffect(() => {
    if (asked !== path) return;
    const stop = new AbortController();
    setShare(0);
    setKnown(null);
    watchPart<P>(path, setShare, stop.signal).then(
      (value) => {
        if (!stop.signal.aborted) setKnown({ path, value, failure: null });
      },
      (cause: unknown) => {
        if (!stop.signal.aborted)
          setKnown({ path, value: null, failure: cause instanceof Error ? cause : new Error(String(cause)) });
      },
    );
    return () => stop.abort();
  }, [path, asked]);

  const ask = () => {
    setKnown(null);
    setAsked(null);
    setTimeout(() => setAsked(path));
  };
  if (asked !== path) return { state: "not asked", ask: () => setAsked(path) };
  if (known?.path !== path) return { state: "on its way", share, cancel: () => setAsked(null) };
  if (known.value !== null) return { state: "there", value: known.value };
  return { state: "failed", failure: known.failure ?? new Error("no answer"), ask };
}
