import type { ComponentChildren } from "preact";
import { wrapText } from "../text/measure.ts";
import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";
import { lineHeight } from "./placement.ts";
import { findingSize, fontFamily, Text, unread } from "./Text.tsx";

/** What every chart is given besides its result. */
export interface ChartProps<Result> {
  readonly result: Result;
  readonly theme: ChartTheme;
  /** In px, 320 to 1,400. */
  readonly width: number;
  /** In px; without it the chart takes what suits its width and content. */
  readonly height?: number;
  /** The sentence that states what the picture shows; drawn above it. Built by `analysis/wording`. */
  readonly finding: string;
  /** Said to screen readers after the finding; without it the chart describes itself. */
  readonly description?: string;
  /** Prefix of ids; only needed where the same chart stands twice on a page. */
  readonly id?: string;
  /** False leaves out keyboard stops, for pictures on paper. */
  readonly interactive?: boolean;
}

/** What a layout needs to know of the page. */
export interface ChartSize {
  readonly width: number;
  readonly height?: number;
  readonly finding: string;
}

/** Space left and right of everything. */
export const gutter = 16;

/** Lines of the finding and the height they take, gap below included. */
export function header(finding: string, width: number): { readonly lines: readonly string[]; readonly height: number } {
  const lines = wrapText(finding, width - 2 * gutter, findingSize, "semibold");
  return { lines, height: lines.length === 0 ? 12 : 14 + lines.length * lineHeight(findingSize) + 10 };
}

interface FrameProps {
  readonly id: string;
  readonly width: number;
  readonly height: number;
  readonly theme: ChartTheme;
  readonly finding: string;
  readonly description: string;
  readonly children: ComponentChildren;
}

/** The sheet of a chart with its finding, and title and description for screen readers. */
export function Frame({ id, width, height, theme, finding, description, children }: FrameProps) {
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={px(width)}
      height={px(height)}
      font-family={fontFamily}
      viewBox={`0 0 ${px(width)} ${px(height)}`}
      aria-labelledby={`${id}-title`}
      aria-describedby={`${id}-description`}
    >
      <title id={`${id}-title`}>{finding}</title>
      <desc id={`${id}-description`}>{description}</desc>
      <rect x={0} y={0} width={px(width)} height={px(height)} fill={theme.sheet} />
      <g {...unread}>
        <Text
          x={gutter}
          y={14 + findingSize}
          lines={header(finding, width).lines}
          size={findingSize}
          weight="semibold"
          theme={theme}
        />
      </g>
      {children}
    </svg>
  );
}
