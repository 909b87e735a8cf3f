import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";
import { blockBox, lineHeight, type TextBlock } from "./placement.ts";

export const fontFamily = "'Source Sans 3', 'Source Sans Pro', 'Helvetica Neue', Arial, sans-serif";
/** Chart text and the least size anything is written in. */
export const textSize = 12;
export const smallSize = 11;
export const findingSize = 15;
/** For what a screen reader has already been told by title, description or the labels of marks. */
export const unread = { "aria-hidden": "true" } as const;

type TextProps = Partial<TextBlock> &
  Pick<TextBlock, "x" | "y"> & {
    readonly theme: ChartTheme;
    readonly text?: string;
    readonly fill?: string;
    /** Puts the sheet's colour behind the text, for labels that stand on lines. */
    readonly backed?: boolean;
  };

/** Text in the chart's font, one element a line. */
export function Text({
  x,
  y,
  text,
  lines = text === undefined ? [] : [text],
  anchor = "start",
  size = textSize,
  weight = "regular",
  fill,
  backed = false,
  theme,
}: TextProps) {
  const box = blockBox({ lines, x, y, anchor, size, weight });
  return (
    <>
      {backed && (
        <rect
          x={px(box.x - 2)}
          y={px(box.y - 1)}
          width={px(box.width + 4)}
          height={px(box.height + 2)}
          fill={theme.sheet}
          fill-opacity={0.86}
        />
      )}
      {lines.map((line, index) => (
        <text
          key={line}
          x={px(x)}
          y={px(y + index * lineHeight(size))}
          font-size={size}
          font-weight={weight === "semibold" ? 600 : 400}
          text-anchor={anchor}
          fill={fill ?? theme.ink}
        >
          {line}
        </text>
      ))}
    </>
  );
}
