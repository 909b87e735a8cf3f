/** Where the parts of a drawn tool lie, whichever way it is drawn. */
import type { Box } from "./kit/placement.ts";
import { px } from "./text/numbers.ts";
import type { DrawnTool, ToolDrawingLayout } from "./toolDrawingLayout.ts";

/** A box from along-the-tool and across-the-tool coordinates; across counts from the axis. */
export function boxOf(
  { axis }: DrawnTool,
  { direction }: ToolDrawingLayout,
  from: number,
  to: number,
  inner: number,
  outer: number,
): Box {
  return direction === "level"
    ? { x: from, y: axis + inner, width: to - from, height: outer - inner }
    : { x: axis + inner, y: from, width: outer - inner, height: to - from };
}

export const pointOf = (
  { axis }: DrawnTool,
  { direction }: ToolDrawingLayout,
  along: number,
  across: number,
): string => (direction === "level" ? `${px(along)} ${px(axis + across)}` : `${px(axis + across)} ${px(along)}`);

/** Thickness of the housing and radius of the mandrel, of the outer radius. */
export const wall = 0.3;
export const mandrel = 0.28;
