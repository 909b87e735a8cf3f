import type { ComponentChildren } from "preact";

interface WaitingProps {
  readonly slow: boolean;
  /** Stops what takes long. */
  readonly stop?: () => void;
  readonly children: ComponentChildren;
}

/** Nothing for the first moment, then words: quick replies never flicker. */
export const Waiting = ({ slow, stop, children }: WaitingProps) => (
  <div class="waiting" aria-busy="true">
    <div aria-live="polite">{slow ? <p>{children}</p> : null}</div>
    {slow && stop !== undefined ? (
      <button type="button" onClick={stop}>
        Stop
      </button>
    ) : null}
  </div>
);

interface FailureProps {
  readonly title: string;
  readonly failure: Error;
  readonly again?: () => void;
  readonly children?: ComponentChildren;
}

/** What went wrong, in the server's words, with a way to try again. */
export const Failure = ({ title, failure, again, children }: FailureProps) => (
  <div class="card">
    <div class="state" role="alert">
      <h2>{title}</h2>
      <p>{failure.message}</p>
      {children}
      {again === undefined ? null : (
        <button type="button" onClick={again}>
          Try again
        </button>
      )}
    </div>
  </div>
);

/** What a view will answer, what is missing, and one control that brings it. */
export const Empty = ({ title, children }: { readonly title: string; readonly children: ComponentChildren }) => (
  <div class="card">
    <div class="state">
      <h2>{title}</h2>
      {children}
    </div>
  </div>
);
