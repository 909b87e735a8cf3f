import type { ComponentChildren } from "preact";
import { Link } from "../parts/Link.tsx";

interface FormFrameProps {
  readonly asks: string;
  /** Words of the way back. */
  readonly back: string;
  /** Form that the way back leads to; null: where forms are opened from. */
  readonly backTo?: string | null;
  readonly children: ComponentChildren;
}

/** A form: what it asks, the way back, and the form itself. */
export const FormFrame = ({ asks, back, backTo = null, children }: FormFrameProps) => (
  <div class="tap-form">
    <p class="answer">{asks}</p>
    <p class="answer-actions small">
      <Link to={{ form: backTo }}>{back}</Link>
    </p>
    {children}
  </div>
);
