import type { ComponentChildren } from "preact";
import { type Change, changed, goTo, place } from "../../state/navigation.ts";
import { writeAddress } from "../../state/place.ts";

interface LinkProps {
  readonly to: Change;
  readonly class?: string;
  readonly current?: boolean;
  readonly onGo?: () => void;
  readonly children: ComponentChildren;
}

/** A real link to a place, so it can be opened in a new tab and copied; a plain click stays in the page. */
export function Link({ to, current = false, onGo, children, class: className }: LinkProps) {
  const target = changed(place.value, to);
  const follow = (event: MouseEvent) => {
    if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    goTo(target);
    onGo?.();
  };
  return (
    <a href={writeAddress(target)} class={className} aria-current={current ? "page" : undefined} onClick={follow}>
      {children}
    </a>
  );
}

/** Every serial in the page leads to its history. */
export const SerialLink = ({ serial }: { readonly serial: string }) => (
  <Link to={{ view: "tool-history", serial }}>{serial}</Link>
);
