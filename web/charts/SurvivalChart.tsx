import type { ItemLifeResult, LifeHistory } from "../../analysis/index.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CensoredMark, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { Fitted, Observed, Readings } from "./SurvivalParts.tsx";
import { placeLabels } from "./survivalLabels.ts";
import { survivalLayout } from "./survivalLayout.ts";
import { ageText, estimateText, lowAge, px } from "./text/numbers.ts";

/**
 * Share still good against hours since restored: the fitted line with its band, what was observed as steps, the readings
 * drawn down to the axis with their bounds. Computes no statistic.
 */
export function SurvivalChart(props: ChartProps<ItemLifeResult>) {
  const { result, theme, width, finding, id = "survival", interactive = true } = props;
  const layout = survivalLayout(result, props);
  const { plot, x, y } = layout;
  const survivors = result.histories.filter((life) => life.kind === "right");
  const small = survivors.length > 150 || width < 480;
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
        titleY={plot.top - 30}
        theme={theme}
      />
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} />
      {survivors.length > 0 && (
        <g {...unread}>
          <Text
            x={plot.right}
            y={plot.top - 30}
            anchor="end"
            text={`still good when last seen: ${survivors.length}`}
            fill={theme.muted}
            theme={theme}
          />
        </g>
      )}
      <g data-marks="survivors">
        {survivors.map((life, index) => (
          <Target
            key={life.lifeId}
            label={survivorLabel(life)}
            data={{ life: life.lifeId }}
            interactive={interactive}
            stop={survivors.length <= mostStops || index === 0}
          >
            <CensoredMark x={x(lowAge(life.lower))} y={layout.survivorsAt} radius={small ? 2 : 2.75} theme={theme} />
            <HitArea x={x(lowAge(life.lower)) - 4} y={layout.survivorsAt - 8} width={12} height={16} />
          </Target>
        ))}
      </g>
      <Fitted {...{ result, layout, theme }} />
      <Observed {...{ result, layout, theme, interactive }} />
      <Readings {...{ result, layout, theme, interactive }} />
      {result.survival === null && (
        <Text
          x={(plot.left + plot.right) / 2}
          y={(plot.top + plot.bottom) / 2}
          anchor="middle"
          lines={["No fitted line:", result.readings.b10.why ?? "no maximum"]}
          fill={theme.muted}
          theme={theme}
        />
      )}
      <g {...unread}>
        {labels.map(({ block, tone, backed }) => (
          <Text key={block.lines.join()} {...block} fill={theme[tone]} backed={backed} theme={theme} />
        ))}
      </g>
      <line x1={px(plot.left)} x2={px(plot.right)} y1={px(y(0))} y2={px(y(0))} stroke={theme.muted} stroke-width={1} />
    </Frame>
  );
}

const survivorLabel = (life: LifeHistory): string =>
  `${life.serial}, restored ${life.sinceOn}: still good at ${ageText(life.lower)}`;

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
  ].join(" ");
}
