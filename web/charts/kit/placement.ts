/** Places labels so that none covers another, leaves the picture, or hides more of it than it must. */
import { textWidth, type Weight } from "../text/measure.ts";

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Anchor = "start" | "middle" | "end";

/** Lines of text; `x` by the anchor, `y` the baseline of the first line. */
export interface TextBlock {
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
  readonly size: number;
  readonly weight: Weight;
}

export const lineHeight = (size: number): number => Math.round(size * 1.3);

/** The box that the ink of a block can fill: from ascender of its first to descender of its last line. */
export function blockBox({ lines, x, y, anchor, size, weight }: TextBlock): Box {
  const width = Math.max(0, ...lines.map((line) => textWidth(line, size, weight)));
  const left = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
  return { x: left, y: y - 0.76 * size, width, height: 0.98 * size + (lines.length - 1) * lineHeight(size) };
}

export const overlaps = (a: Box, b: Box, gap = 0): boolean =>
  a.x < b.x + b.width + gap && b.x < a.x + a.width + gap && a.y < b.y + b.height + gap && b.y < a.y + a.height + gap;

const inside = (a: Box, b: Box): boolean =>
  a.x >= b.x && a.y >= b.y && a.x + a.width <= b.x + b.width && a.y + a.height <= b.y + b.height;

export interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly anchor: Anchor;
}

/**
 * The first candidate that touches no label and nothing drawn; else the one that touches least of what is drawn.
 * Null where every candidate would cover a label or leave the bounds: the text then stands in the mark's label only.
 */
export function placeBlock(
  text: Pick<TextBlock, "lines" | "size" | "weight">,
  candidates: readonly Candidate[],
  { labels, drawn, bounds }: { readonly labels: readonly Box[]; readonly drawn: readonly Box[]; readonly bounds: Box },
): TextBlock | null {
  let best: { block: TextBlock; cost: number } | null = null;
  for (const candidate of candidates) {
    const block: TextBlock = { ...text, ...candidate };
    const box = blockBox(block);
    if (!inside(box, bounds) || labels.some((label) => overlaps(label, box, 3))) continue;
    const cost = drawn.filter((one) => overlaps(one, box, 2)).length;
    if (cost === 0) return block;
    if (best === null || cost < best.cost) best = { block, cost };
  }
  return best?.block ?? null;
}

/** Small boxes along a drawn line, for `placeBlock` to keep clear of. */
export function boxesAlong(points: readonly (readonly [x: number, y: number])[], spacing = 6): Box[] {
  const boxes: Box[] = [];
  for (let index = 1; index < points.length; index++) {
    const [from, to] = [points[index - 1], points[index]];
    if (!from || !to) continue;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const parts = Math.max(1, Math.ceil(length / spacing));
    for (let part = 0; part <= parts; part++) {
      const at = part / parts;
      boxes.push({
        x: from[0] + at * (to[0] - from[0]) - 1,
        y: from[1] + at * (to[1] - from[1]) - 1,
        width: 2,
        height: 2,
      });
    }
  }
  return boxes;
}
