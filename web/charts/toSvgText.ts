import type { VNode } from "preact";
// biome-ignore lint/style/noRestrictedImports: writes the same inert nodes as text, for files and for comparison; needs no DOM.
import { renderToString } from "preact-render-to-string";

/** A chart as the text of an SVG file. The renderer writes HTML, where `d` may stand alone; a file is XML, where it may not. */
export function toSvgText(chart: VNode): string {
  return renderToString(chart).replace(/<path d(?=[\s>])/g, '<path d=""');
}
