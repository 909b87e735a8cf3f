import { useEffect } from "preact/hooks";

/** Closes what is open when Escape is pressed anywhere. */
export function useEscape(open: boolean, close: () => void): void {
  useEffect(() => {
    if (!open) return;
    const listen = (event: KeyboardEvent) => {
      if (event.key === "Escape") close();
    };
    window.addEventListener("keydown", listen);
    return () => window.removeEventListener("keydown", listen);
  }, [open, close]);
}
