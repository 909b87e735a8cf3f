import { useEffect, useRef, useState } from "preact/hooks";
import type { StatementDefinition, StatementPreview, StatementProgress } from "../../../analysis/index.ts";
import { previewStatement } from "../../state/statementRequests.ts";

export interface MakingStatement {
  readonly preview: StatementPreview | null;
  readonly progress: StatementProgress | null;
  readonly failure: Error | null;
  /** Makes a preview; one that is under way is taken back. */
  readonly make: (definition: StatementDefinition) => void;
  readonly stop: () => void;
}

/** A preview being made, with how far it is. */
export function useStatement(): MakingStatement {
  const [preview, setPreview] = useState<StatementPreview | null>(null);
  const [progress, setProgress] = useState<StatementProgress | null>(null);
  const [failure, setFailure] = useState<Error | null>(null);
  const running = useRef<AbortController | null>(null);
  useEffect(() => () => running.current?.abort(), []);

  const stop = () => {
    running.current?.abort();
    running.current = null;
    setProgress(null);
  };
  const make = (definition: StatementDefinition) => {
    stop();
    const mine = new AbortController();
    running.current = mine;
    setFailure(null);
    setProgress({ done: 0, of: 1, what: "Which questions it rests on" });
    previewStatement(definition, mine.signal, (step) => {
      if (!mine.signal.aborted) setProgress(step);
    }).then(
      (made) => {
        if (mine.signal.aborted) return;
        setPreview(made);
        setProgress(null);
      },
      (cause: unknown) => {
        if (mine.signal.aborted) return;
        setFailure(cause instanceof Error ? cause : new Error(String(cause)));
        setProgress(null);
      },
    );
  };
  return { preview, progress, failure, make, stop };
}
