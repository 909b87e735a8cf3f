import { comparisonsLayout, type RatioRow } from "./comparisonsLayout.ts";
import { BottomAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, Target } from "./kit/marks.tsx";
import { lineHeight } from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { px } from "./text/numbers.ts";

/** Ratios of failure rates after and before a change, with their bounds, against the line of no change. */
export function ComparisonsChart(props: ChartProps<readonly RatioRow[]>) {
  const { result, theme, width, finding, id = "comparisons", interactive = true } = props;
  const { plot, x, xTicks, xTitle, rows, valueAt, height } = comparisonsLayout(result, props);
  const noChange = px(x(1));
  return (
    <Frame
      {...{ id, width, height, theme, finding }}
      description={
        props.description ??
        "Ratio of the failure rates after and before a change, with exact bounds, for each comparison."
      }
    >
      <BottomAxis plot={plot} ticks={xTicks} title={xTitle} theme={theme} grid />
      <g {...unread}>
        <line
          x1={noChange}
          x2={noChange}
          y1={px(plot.top - 4)}
          y2={px(plot.bottom)}
          stroke={theme.ink}
          stroke-width={1.25}
        />
        <Text x={noChange} y={plot.top - 9} text="no change" anchor="middle" fill={theme.muted} theme={theme} />
      </g>
      {rows.map(({ comparison, y, name, value }) => {
        const { ratio, shown, label } = comparison;
        const colour = shown ? theme.accent : theme.slate;
        const low = ratio.lower === null || x(ratio.lower) <= plot.left;
        const high = ratio.upper === null || x(ratio.upper) >= plot.right;
        const at = ratio.value === null || ratio.value === 0 ? null : x(ratio.value);
        return (
          <g key={name.join(" ")} data-marks="comparisons">
            <Target label={label} interactive={interactive}>
              <CappedBar
                from={low ? plot.left : x(ratio.lower ?? 1)}
                to={high ? plot.right : x(ratio.upper ?? 1)}
                y={y}
                colour={colour}
                theme={theme}
                {...(low && high
                  ? { open: "both" as const }
                  : low
                    ? { open: "from" as const }
                    : high
                      ? { open: "to" as const }
                      : {})}
              />
              {at === null ? null : (
                <circle
                  cx={px(at)}
                  cy={px(y)}
                  r={4.5}
                  fill={shown ? colour : theme.sheet}
                  stroke={colour}
                  stroke-width={1.5}
                />
              )}
            </Target>
            <g {...unread}>
              <Text x={gutter} y={y + 4 - ((name.length - 1) * lineHeight(textSize)) / 2} lines={name} theme={theme} />
              {valueAt !== null && (
                <Text x={valueAt} y={y + 4} text={value} anchor="end" fill={theme.muted} theme={theme} />
              )}
            </g>
          </g>
        );
      })}
    </Frame>
  );
}
