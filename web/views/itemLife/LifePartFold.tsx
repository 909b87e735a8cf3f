import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { LifePart } from "../../../analysis/index.ts";
import { useLifePart } from "../../state/lifeParts.ts";

interface LifePartFoldProps<P extends LifePart> {
  readonly title: string;
  readonly path: string;
  /** What is going on while it is computed. */
  readonly waitingWords: string;
  /** Controls that stand above the part, whatever its state. */
  readonly controls?: ComponentChildren;
  readonly children: (part: P) => ComponentChildren;
}

/** A long part of the answer, folded away: it is computed when it is opened, says how far it is, and can be given up. */
export function LifePartFold<P extends LifePart>({
  title,
  path,
  waitingWords,
  controls,
  children,
}: LifePartFoldProps<P>) {
  const [open, setOpen] = useState(false);
  return (
    <details class="how part" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {open ? (
        <>
          {controls}
          <OpenPart<P> {...{ path, waitingWords, children }} />
        </>
      ) : null}
    </details>
  );
}

function OpenPart<P extends LifePart>({
  path,
  waitingWords,
  children,
}: Pick<LifePartFoldProps<P>, "path" | "waitingWords" | "children">) {
  const [given, setGiven] = useState<string | null>(null);
  const part = useLifePart<P>(path, given !== path);
  if (part.state === "there") return <>{children(part.value)}</>;
  if (part.state === "on its way")
    return (
      <div class="reading">
        <progress class="bar" max={1} value={part.share} aria-label="How far it is" />
        <p class="small muted" role="status">
          {waitingWords}
          {part.share > 0 ? `: ${Math.round(part.share * 100)} %` : ""}
        </p>
        <button
          type="button"
          onClick={() => {
            setGiven(path);
            part.cancel();
          }}
        >
          Cancel
        </button>
      </div>
    );
  return (
    <p class={part.state === "failed" ? "" : "muted"} role={part.state === "failed" ? "alert" : undefined}>
      {part.state === "failed" ? part.failure.message : "Given up."}{" "}
      <button type="button" onClick={part.ask}>
        Ask again
      </button>
    </p>
  );
}
