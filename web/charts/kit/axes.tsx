import { textWidth, wrapText } from "../text/measure.ts";
import { px } from "../text/numbers.ts";
import type { ChartTheme } from "../theme.ts";
import { lineHeight } from "./placement.ts";
import { Text, textSize, unread } from "./Text.tsx";

export interface Tick {
  /** In px along the axis. */
  readonly at: number;
  readonly text: string;
}

/** Plot area in px. */
export interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Ticks whose texts stand clear of each other, the first kept; with `last`, from the end. */
export function clearTicks(ticks: readonly Tick[], gap = 8): Tick[] {
  const kept: Tick[] = [];
  let free = Number.NEGATIVE_INFINITY;
  for (const tick of ticks) {
    const half = textWidth(tick.text, textSize) / 2;
    if (tick.at - half < free) continue;
    kept.push(tick);
    free = tick.at + half + gap;
  }
  return kept;
}

/** Height of a bottom axis with its title. */
export const bottomAxisHeight = (title: string, width: number): number =>
  24 + wrapText(title, width, textSize).length * lineHeight(textSize) + 12;

interface AxisProps {
  readonly plot: Plot;
  readonly ticks: readonly Tick[];
  readonly title: string;
  readonly theme: ChartTheme;
  readonly grid?: boolean;
}

/** Ticks and title below the plot. */
export function BottomAxis({ plot, ticks, title, theme, grid = false }: AxisProps) {
  const shown = clearTicks(ticks);
  return (
    <g {...unread}>
      {grid && ticks.map(({ at }) => <Rule key={at} x1={at} x2={at} y1={plot.top} y2={plot.bottom} theme={theme} />)}
      <line
        x1={px(plot.left)}
        x2={px(plot.right)}
        y1={px(plot.bottom)}
        y2={px(plot.bottom)}
        stroke={theme.muted}
        stroke-width={1}
      />
      {ticks.map(({ at }) => (
        <line
          key={at}
          x1={px(at)}
          x2={px(at)}
          y1={px(plot.bottom)}
          y2={px(plot.bottom + 5)}
          stroke={theme.muted}
          stroke-width={1}
        />
      ))}
      {shown.map(({ at, text }) => (
        <Text key={text} x={at} y={plot.bottom + 18} text={text} anchor="middle" fill={theme.muted} theme={theme} />
      ))}
      <Text
        x={plot.left}
        y={plot.bottom + 18 + lineHeight(textSize) + 4}
        lines={wrapText(title, plot.right - plot.left, textSize)}
        fill={theme.ink}
        theme={theme}
      />
    </g>
  );
}

/** Ticks left of the plot; the title stands level above them, where it reads without turning the head. */
export function LeftAxis({
  plot,
  ticks,
  title,
  theme,
  titleX,
  titleY = plot.top - 12,
}: AxisProps & { readonly titleX: number; readonly titleY?: number }) {
  return (
    <g {...unread}>
      {ticks.map(({ at }) => (
        <Rule key={at} x1={plot.left} x2={plot.right} y1={at} y2={at} theme={theme} />
      ))}
      {ticks.map(({ at, text }) => (
        <Text key={text} x={plot.left - 8} y={at + 4} text={text} anchor="end" fill={theme.muted} theme={theme} />
      ))}
      <Text x={titleX} y={titleY} text={title} theme={theme} />
    </g>
  );
}

interface RuleProps {
  readonly x1: number;
  readonly x2: number;
  readonly y1: number;
  readonly y2: number;
  readonly theme: ChartTheme;
}

export function Rule({ x1, x2, y1, y2, theme }: RuleProps) {
  return <line x1={px(x1)} x2={px(x2)} y1={px(y1)} y2={px(y2)} stroke={theme.rule} stroke-width={1} />;
}

/** Width the tick texts need left of the plot, with the gap to it. */
export const tickRoom = (texts: readonly string[]): number =>
  Math.max(0, ...texts.map((text) => textWidth(text, textSize))) + 8;
