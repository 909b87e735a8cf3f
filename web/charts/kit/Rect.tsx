import { px } from "../text/numbers.ts";
import type { Box } from "./placement.ts";

/** A filled box, outlined where it has a stroke. */
export function Rect({
  box,
  fill,
  stroke = "none",
  corner = 0,
}: {
  readonly box: Box;
  readonly fill: string;
  readonly stroke?: string;
  readonly corner?: number;
}) {
  return (
    <rect
      x={px(box.x)}
      y={px(box.y)}
      width={px(box.width)}
      height={px(box.height)}
      rx={corner}
      fill={fill}
      stroke={stroke}
      stroke-width={stroke === "none" ? 0 : 1}
    />
  );
}
