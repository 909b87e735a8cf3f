import type { Plot, Tick } from "./kit/axes.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

/** Hours left of a strip, each with its rule. */
export function HourTicks({
  ticks,
  plot,
  theme,
}: {
  readonly ticks: readonly Tick[];
  readonly plot: Plot;
  readonly theme: ChartTheme;
}) {
  return (
    <g {...unread}>
      {ticks.map(({ at, text }) => (
        <g key={text}>
          <line
            x1={px(plot.left)}
            x2={px(plot.right)}
            y1={px(at)}
            y2={px(at)}
            stroke={text === "0" ? theme.muted : theme.rule}
            stroke-width={1}
          />
          <Text x={plot.left - 8} y={at + 4} text={text} size={11} anchor="end" fill={theme.muted} theme={theme} />
        </g>
      ))}
    </g>
  );
}
