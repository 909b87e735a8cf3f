import { useLayoutEffect, useRef, useState } from "preact/hooks";

/** Width of an element in whole pixels, followed as it changes; 0 until it is known. */
export function useWidth<E extends HTMLElement>(): { readonly area: { current: E | null }; readonly width: number } {
  const area = useRef<E>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = area.current;
    if (element === null) return;
    const look = () => setWidth(Math.floor(element.getBoundingClientRect().width));
    look();
    const watcher = new ResizeObserver(look);
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  return { area, width };
}
