import { useState } from "preact/hooks";
import type { StudyProgress } from "../../analysis/index.ts";
import { type Loaded, useLoaded } from "./useLoaded.ts";

/** A long question that says how far it is. `doing` is null until it has said so. */
export function useWatched<T>(
  key: string,
  load: (signal: AbortSignal, onProgress: (progress: StudyProgress) => void) => Promise<T>,
): { readonly loaded: Loaded<T>; readonly doing: string | null } {
  const [progress, setProgress] = useState<StudyProgress | null>(null);
  const loaded = useLoaded<T>(key, (signal) => {
    setProgress(null);
    return load(signal, setProgress);
  });
  return {
    loaded,
    doing: progress === null ? null : `${Math.round(100 * progress.share)} % done: ${progress.doing}…`,
  };
}
