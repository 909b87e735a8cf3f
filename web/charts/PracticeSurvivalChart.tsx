import { scaleLinear } from "d3-scale";
import {
  type PracticeComparison,
  type PracticeDetail,
  type PracticeGroup,
  sayPracticeGroup,
} from "../../analysis/index.ts";
import { BottomAxis, bottomAxisHeight, LeftAxis, type Plot, tickRoom } from "./kit/axes.tsx";
import { CategoryMark, categoryColour, categoryDashes } from "./kit/CategoryMark.tsx";
import { type ChartProps, type ChartSize, Frame, gutter, header } from "./kit/Frame.tsx";
import { HitArea, Target } from "./kit/marks.tsx";
import { bandPath, between, linePath, type Point } from "./kit/paths.ts";
import { lineHeight } from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { hourTicks } from "./kit/ticks.ts";
import { wrapText } from "./text/measure.ts";
import { percent, threeDigits } from "./text/numbers.ts";

type SurvivalProps = ChartProps<PracticeDetail> & { readonly comparison: PracticeComparison };

interface Layout {
  readonly height: number;
  readonly plot: Plot;
  readonly x: ReturnType<typeof scaleLinear<number, number>>;
  readonly y: ReturnType<typeof scaleLinear<number, number>>;
  readonly groups: readonly {
    readonly group: PracticeGroup;
    readonly order: number;
    readonly lines: readonly string[];
    readonly at: number;
  }[];
  readonly hours: readonly number[];
  readonly shares: readonly number[];
}

const xTitle = "Hours run; a line ends where fewer than ten lives were followed";

function layoutOf({ groups }: PracticeDetail, comparison: PracticeComparison, { width, finding }: ChartSize): Layout {
  const drawn = groups.filter(({ steps }) => steps.length > 0);
  const longest = Math.max(10, ...drawn.map(({ followedTo }) => followedTo));
  let at = header(finding, width).height + 14;
  const rows = groups.map((group, order) => {
    const lines = wrapText(sayPracticeGroup(group, comparison), width - 2 * gutter - 14, textSize);
    const row = { group, order, lines, at };
    at += lines.length * lineHeight(textSize) + 4;
    return row;
  });
  const top = at + 20;
  const least = Math.min(
    1,
    ...drawn.flatMap(({ steps, followedTo }) =>
      steps.filter(({ from }) => from < followedTo).map(({ survival, lower }) => lower ?? survival),
    ),
  );
  const from = least > 0.5 ? 0.5 : 0;
  const shares = from === 0 ? [0, 0.25, 0.5, 0.75, 1] : [0.5, 0.6, 0.7, 0.8, 0.9, 1];
  const left = gutter + tickRoom(shares.map(percent));
  const right = width - gutter - 6;
  const plot = { left, right, top, bottom: top + Math.round(Math.min(320, Math.max(200, 0.34 * width))) };
  return {
    height: plot.bottom + bottomAxisHeight(xTitle, right - left),
    plot,
    x: scaleLinear([0, 1.03 * longest], [left, right]),
    y: scaleLinear([from, 1], [plot.bottom, plot.top]),
    groups: rows,
    hours: hourTicks(longest, Math.max(3, (right - left) / 80)),
    shares,
  };
}

/** Share still good against hours, group by group, with bounds where the steps have them. */
export function PracticeSurvivalChart(props: SurvivalProps) {
  const { result, comparison, theme, width, finding, id = "practice-survival", interactive = true } = props;
  const layout = layoutOf(result, comparison, props);
  const { plot, x, y } = layout;
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result, comparison)}
    >
      <LeftAxis
        plot={plot}
        ticks={layout.shares.map((share) => ({ at: y(share), text: percent(share) }))}
        title="Still good"
        titleX={gutter}
        theme={theme}
      />
      <BottomAxis
        plot={plot}
        ticks={layout.hours.map((hours) => ({ at: x(hours), text: threeDigits(hours) }))}
        title={xTitle}
        theme={theme}
      />
      <g data-marks="groups">
        {layout.groups.map(({ group, order, lines, at }) => (
          <Target
            key={`${order}`}
            label={sayPracticeGroup(group, comparison)}
            data={{ lives: JSON.stringify(group.lifeIds.slice(0, 60)) }}
            interactive={interactive}
          >
            <path
              d={bandPath(boundPoints(group, layout, "upper"), boundPoints(group, layout, "lower"))}
              fill={categoryColour(order, theme)}
              fill-opacity={0.1}
              pointer-events="none"
            />
            <path
              d={stepPath(group, layout)}
              fill="none"
              stroke={categoryColour(order, theme)}
              stroke-width={1.75}
              stroke-dasharray={categoryDashes[order % categoryDashes.length] ?? "none"}
            />
            <CategoryMark order={order} x={gutter + 6} y={at - 4} theme={theme} />
            <HitArea x={gutter} y={at - 13} width={width - 2 * gutter} height={lines.length * 16} />
          </Target>
        ))}
      </g>
      <g {...unread} pointer-events="none">
        {layout.groups.map(({ order, lines, at }) => (
          <Text key={order} x={gutter + 18} y={at} lines={lines} theme={theme} />
        ))}
      </g>
    </Frame>
  );
}

/** Steps; where a step lies somewhere between two inspections, a slanting line joins the two. */
function stepPath({ steps, followedTo }: PracticeGroup, { x, y, plot }: Layout): string {
  if (steps.length === 0) return "";
  const floor = (share: number) => Math.min(plot.bottom, y(share));
  const points: Point[] = [[x(0), y(1)]];
  let level = y(1);
  for (const step of steps) {
    points.push([x(step.from), level]);
    level = floor(step.survival);
    points.push([x(step.to), level]);
  }
  points.push([Math.max(x(followedTo), points.at(-1)?.[0] ?? 0), level]);
  return linePath(between(points, x(0), x(followedTo)));
}

function boundPoints({ steps, followedTo }: PracticeGroup, { x, y, plot }: Layout, side: "lower" | "upper"): Point[] {
  const floor = (share: number) => Math.min(plot.bottom, y(share));
  const corners = steps.flatMap((step): Point[] => {
    const bound = step[side];
    return bound === null ? [] : [[x(step.to), floor(bound)]];
  });
  const points = corners.flatMap((corner, index): Point[] => {
    const before = corners[index - 1];
    return before ? [[corner[0], before[1]], corner] : [corner];
  });
  return between(points, x(0), x(followedTo));
}

const describe = ({ groups }: PracticeDetail, comparison: PracticeComparison): string =>
  `Share still good against hours run, by ${comparison.title.toLowerCase()}: ${groups.map((group) => sayPracticeGroup(group, comparison)).join("; ")}. A slanting part lies between two inspections; a line ends where fewer than ten lives were followed.`;
