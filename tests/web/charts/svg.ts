/** Reads texts and shapes out of a drawn chart; charts place everything absolutely, so no transform needs following. */
import { type Anchor, type Box, blockBox } from "../../../web/charts/kit/placement.ts";

export interface DrawnText {
  readonly text: string;
  readonly size: number;
  readonly fill: string;
  readonly box: Box;
}

const attribute = (tag: string, name: string): string | undefined => new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1];
const decoded = (text: string): string =>
  text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&amp;", "&");

export function textsOf(svg: string): DrawnText[] {
  return [...svg.matchAll(/<text([^>]*)>([^<]*)<\/text>/g)].map(([, tag = "", content = ""]) => {
    const size = Number(attribute(tag, "font-size"));
    const text = decoded(content);
    const box = blockBox({
      lines: [text],
      x: Number(attribute(tag, "x")),
      y: Number(attribute(tag, "y")),
      anchor: (attribute(tag, "text-anchor") ?? "start") as Anchor,
      size,
      weight: attribute(tag, "font-weight") === "600" ? "semibold" : "regular",
    });
    return { text, size, fill: attribute(tag, "fill") ?? "", box };
  });
}

export function sizeOf(svg: string): { readonly width: number; readonly height: number } {
  const tag = /<svg[^>]*>/.exec(svg)?.[0] ?? "";
  return { width: Number(attribute(tag, "width")), height: Number(attribute(tag, "height")) };
}

/** Boxes of discs and bars, and of the starting points of paths. */
export function shapesOf(svg: string): Box[] {
  const number = (tag: string, name: string): number => Number(attribute(tag, name) ?? 0);
  const discs = [...svg.matchAll(/<circle([^>]*)>/g)].map(([, tag = ""]): Box => {
    const r = number(tag, "r");
    return { x: number(tag, "cx") - r, y: number(tag, "cy") - r, width: 2 * r, height: 2 * r };
  });
  const bars = [...svg.matchAll(/<rect([^>]*)>/g)]
    .filter(([, tag = ""]) => attribute(tag, "fill") !== "none")
    .map(
      ([, tag = ""]): Box => ({
        x: number(tag, "x"),
        y: number(tag, "y"),
        width: number(tag, "width"),
        height: number(tag, "height"),
      }),
    );
  const starts = [...svg.matchAll(/\sd="M(-?[\d.]+) (-?[\d.]+)/g)].map(
    ([, x, y]): Box => ({ x: Number(x), y: Number(y), width: 0, height: 0 }),
  );
  return [...discs, ...bars, ...starts];
}
