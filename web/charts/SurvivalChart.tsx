import type { ItemLifeResult } from "../../analysis/index.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { Fitted, Observed, Readings } from "./SurvivalParts.tsx";
import { SurvivorStrip } from "./SurvivorStrip.tsx";
import { placeLabels } from "./survivalLabels.ts";
import { delayNote, survivalLayout } from "./survivalLayout.ts";
import { estimateText, px } from "./text/numbers.ts";

/**
 * Share still good against hours since restored: the fitted line with its band, what was observed as steps, the readings
 * drawn down to the axis with their bounds. Computes no statistic.
 */
export function SurvivalChart(props: ChartProps<ItemLifeResult>) {
  const { result, theme, width, finding, id = "survival", interactive = true } = props;
  const layout = survivalLayout(result, props);
  const { plot, y } = layout;
  const labels = placeLabels(result, layout);
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <LeftAxis
        plot={plot}
        ticks={layout.yTicks}
        title={layout.yTitle}
        titleX={gutter}
        titleY={layout.titlesAt}
        theme={theme}
      />
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} />
      {layout.note.length > 0 && (
        <g {...unread}>
          <Text x={gutter} y={layout.noteAt} lines={layout.note} fill={theme.muted} theme={theme} />
        </g>
      )}
      <SurvivorStrip {...{ layout, theme, interactive }} />
      <Fitted {...{ result, layout, theme }} />
      <Observed {...{ result, layout, theme, interactive }} />
      <Readings {...{ result, layout, theme, interactive }} />
      <g {...unread}>
        {labels.map(({ block, tone, backed }) => (
          <Text key={block.lines.join()} {...block} fill={theme[tone]} backed={backed} theme={theme} />
        ))}
      </g>
      <line x1={px(plot.left)} x2={px(plot.right)} y1={px(y(0))} y2={px(y(0))} stroke={theme.muted} stroke-width={1} />
    </Frame>
  );
}

function describe(result: ItemLifeResult): string {
  const { item, mode, counts, readings } = result;
  const observed = result.nonparametric.method !== "none";
  const fitted = result.survival
    ? `A fitted line with its bounds${observed ? ", and what was observed as steps" : ""}.`
    : observed
      ? "What was observed, as steps."
      : "Nothing could be estimated.";
  return [
    `Share of ${item} still good against hours since restored, for ${mode}: ${counts.failures} failures among ${counts.lives} lives.`,
    fitted,
    `One in ten failed by ${estimateText(readings.b10)}; half by ${estimateText(readings.median)}.`,
    ...delayNote(result),
  ].join(" ");
}
