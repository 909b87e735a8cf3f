import type { VNode } from "preact";
// biome-ignore lint/style/noRestrictedImports: writes the same inert nodes as text, for files and for comparison; needs no DOM.
import { renderToString } from "preact-render-to-string";

/** A chart as the text of an SVG file. */
export function toSvgText(chart: VNode): string {
  return renderToString(chart);
}
