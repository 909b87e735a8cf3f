import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

/** One band of the card: its name in the margin, its content beside it. */
export function Section({ name, children }: { readonly name: string; readonly children: ComponentChildren }) {
  const id = useId();
  return (
    <section class="section" aria-labelledby={id}>
      <h2 class="section-label" id={id}>
        {name}
      </h2>
      <div class="section-body">{children}</div>
    </section>
  );
}
