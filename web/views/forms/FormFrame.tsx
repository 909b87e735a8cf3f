import type { ComponentChildren } from "preact";
import { Link } from "../parts/Link.tsx";

interface FormFrameProps {
  readonly asks: string;
  readonly serial: string;
  readonly children: ComponentChildren;
}

/** A form at a tool: what it asks, the way back, and the form itself. */
export const FormFrame = ({ asks, serial, children }: FormFrameProps) => (
  <div class="tap-form">
    <p class="answer">{asks}</p>
    <p class="answer-actions small">
      <Link to={{ form: null }}>Back to the story of {serial}</Link>
    </p>
    {children}
  </div>
);
