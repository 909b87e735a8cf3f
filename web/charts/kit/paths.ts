/** Path texts for lines, bands and hatching. */
import { px } from "../text/numbers.ts";
import type { Box } from "./placement.ts";

export type Point = readonly [x: number, y: number];

export const linePath = (points: readonly Point[]): string =>
  points.map(([x, y], index) => `${index === 0 ? "M" : "L"}${px(x)} ${px(y)}`).join("");

/** Area between an upper and a lower line over the same ages. */
export const bandPath = (upper: readonly Point[], lower: readonly Point[]): string =>
  upper.length === 0 ? "" : `${linePath(upper)}${linePath([...lower].reverse()).replace("M", "L")}Z`;

/** Slanting lines inside a box: "few failures". Drawn as a plain path, since patterns do not survive every export. */
export function hatchPath({ x, y, width, height }: Box, spacing = 5): string {
  let path = "";
  for (let offset = spacing; offset < width + height; offset += spacing) {
    const from: Point = offset <= height ? [x, y + offset] : [x + offset - height, y + height];
    const to: Point = offset <= width ? [x + offset, y] : [x + width, y + offset - width];
    path += `M${px(from[0])} ${px(from[1])}L${px(to[0])} ${px(to[1])}`;
  }
  return path;
}

/**
 * The part of a polyline between two x values, with its ends cut exactly there.
 * `points` ascend in x; an empty answer where nothing lies between.
 */
export function between(points: readonly Point[], from: number, to: number): Point[] {
  const cut: Point[] = [];
  for (let index = 0; index < points.length; index++) {
    const here = points[index];
    const before = points[index - 1];
    if (!here) continue;
    for (const edge of [from, to]) {
      if (before && before[0] < edge && here[0] > edge) {
        cut.push([edge, before[1] + ((here[1] - before[1]) * (edge - before[0])) / (here[0] - before[0])]);
      }
    }
    if (here[0] >= from && here[0] <= to) cut.push(here);
  }
  return cut;
}
