import {
  formatHours,
  formatTimes,
  type PracticeComparison,
  type PracticeDetail,
  type PracticeLife,
} from "../../analysis/index.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { ExactMark, HitArea, mostStops, Target, UprightBar } from "./kit/marks.tsx";
import { bandPath, linePath, type Point } from "./kit/paths.ts";
import { Text, unread } from "./kit/Text.tsx";
import { hoursTitle, type LifeAgainstLayout, lifeAgainstLayout, timesTitle } from "./lifeAgainstLayout.ts";
import { px, threeDigits, whole } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

type LifeAgainstProps = ChartProps<PracticeDetail> & { readonly comparison: PracticeComparison };

/** Life against a number of the build: the multiplier with its band, and under it every life as it went. */
export function LifeAgainstChart(props: LifeAgainstProps) {
  const { result, comparison, theme, width, finding, id = "life-against", interactive = true } = props;
  const layout = lifeAgainstLayout(result, comparison, props);
  const { livesPlot, failed, survived, x, hours } = layout;
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result, comparison, layout)}
    >
      <Curve {...{ result, comparison, layout, theme }} />
      <LeftAxis plot={livesPlot} ticks={layout.hoursTicks} title={hoursTitle} titleX={gutter} theme={theme} />
      <BottomAxis plot={livesPlot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} />
      <path d={rings(survived, layout)} fill="none" stroke={theme.muted} stroke-width={1} stroke-opacity={0.7} />
      <g data-marks="lives">
        {failed.map((life, index) => (
          <Target
            key={life.lifeId}
            label={lifeSays(life, comparison)}
            data={{ life: life.lifeId }}
            interactive={interactive}
            stop={failed.length <= mostStops || index === 0}
          >
            {life.lower === life.upper ? (
              <ExactMark x={x(life.at ?? 0)} y={hours(life.lower)} theme={theme} />
            ) : (
              <UprightBar
                x={x(life.at ?? 0)}
                top={hours(life.upper ?? life.lower)}
                bottom={hours(life.lower)}
                colour={theme.accent}
                cap={2.5}
                thickness={1.5}
                theme={theme}
              />
            )}
            <HitArea
              x={x(life.at ?? 0) - 5}
              y={hours(life.upper ?? life.lower) - 5}
              width={10}
              height={hours(life.lower) - hours(life.upper ?? life.lower) + 10}
            />
          </Target>
        ))}
      </g>
    </Frame>
  );
}

/** Survivors by the hundred: one open ring each, at the last age known good. */
function rings(lives: readonly PracticeLife[], { x, hours }: LifeAgainstLayout): string {
  const radius = 1.75;
  return lives
    .map(({ at, lower }) => {
      const [cx, cy] = [x(at ?? 0), hours(lower)];
      return `M${px(cx - radius)} ${px(cy)}A${radius} ${radius} 0 1 0 ${px(cx + radius)} ${px(cy)}A${radius} ${radius} 0 1 0 ${px(cx - radius)} ${px(cy)}`;
    })
    .join("");
}

function Curve({
  result: { curve },
  comparison: { against },
  layout: { curvePlot, x, times, timesTicks },
  theme,
}: {
  readonly result: PracticeDetail;
  readonly comparison: PracticeComparison;
  readonly layout: LifeAgainstLayout;
  readonly theme: ChartTheme;
}) {
  if (curve === null || curvePlot === null) return null;
  const [, most] = times.domain() as [number, number];
  const points = (line: readonly number[]): Point[] =>
    curve.at.map((value, index) => [x(value), times(Math.min(most, line[index] ?? 0))]);
  return (
    <>
      <LeftAxis plot={curvePlot} ticks={timesTicks} title={timesTitle} titleX={gutter} theme={theme} />
      <g {...unread}>
        <path
          d={bandPath(points(curve.upper), points(curve.lower))}
          fill={theme.slate}
          fill-opacity={theme.bandOpacity}
        />
        <path d={linePath(points(curve.value))} fill="none" stroke={theme.slate} stroke-width={2} />
        {against !== null && (
          <>
            <line
              x1={px(x(against))}
              x2={px(x(against))}
              y1={px(curvePlot.top)}
              y2={px(curvePlot.bottom)}
              stroke={theme.muted}
              stroke-width={1}
              stroke-dasharray="3 3"
            />
            <circle cx={px(x(against))} cy={px(times(1))} r={3.5} fill={theme.slate} />
            <Text
              x={x(against) + (x(against) > (curvePlot.left + curvePlot.right) / 2 ? -8 : 8)}
              y={curvePlot.bottom - 8}
              anchor={x(against) > (curvePlot.left + curvePlot.right) / 2 ? "end" : "start"}
              text={`1 at ${threeDigits(against)}`}
              fill={theme.muted}
              backed
              theme={theme}
            />
          </>
        )}
      </g>
    </>
  );
}

function lifeSays(
  { serial, item, at, lower, upper, lifeId }: PracticeLife,
  { mode, unit }: PracticeComparison,
): string {
  const when = upper === lower ? `at ${formatHours(lower)}` : `after ${formatHours(lower)}, by ${formatHours(upper)}`;
  return `${serial}, ${item}: ${threeDigits(at ?? 0)}${unit === null ? "" : ` ${unit}`}, ${mode} ${when}; ${lifeId}`;
}

const describe = (
  { curve }: PracticeDetail,
  { title, against }: PracticeComparison,
  { failed, survived }: LifeAgainstLayout,
): string =>
  `${title} of ${whole(failed.length)} lives that failed and ${whole(survived.length)} that survived so far, each at its hours run.${
    curve === null
      ? ""
      : ` Above, how many times as long lives last against ${threeDigits(against ?? 0)}: ${formatTimes(curve.value[0] ?? 1)} at ${threeDigits(curve.at[0] ?? 0)}, ${formatTimes(curve.value.at(-1) ?? 1)} at ${threeDigits(curve.at.at(-1) ?? 0)}, with bounds.`
  }`;
