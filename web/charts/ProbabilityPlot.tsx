import { type ItemLifeResult, lawNumbers, type PlotPoint, sayLaw, sentenceCase } from "../../analysis/index.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { FittedBand, FittedLine } from "./kit/FittedLine.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, ExactMark, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { between, type Point } from "./kit/paths.ts";
import { type Box, blockBox, boxesAlong, overlaps, placeBlock, type TextBlock } from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { type ProbabilityLayout, probabilityLayout } from "./probabilityLayout.ts";
import { estimateText, percent, px, threeDigits } from "./text/numbers.ts";

/**
 * Failures on paper where a Weibull law is a straight line: hours on a logarithmic axis, failed per cent even in
 * log(-log(1 - F)). The nearer the marks keep to the line, the better the law describes them.
 */
export function ProbabilityPlot(props: ChartProps<ItemLifeResult>) {
  const { result, theme, width, finding, id = "probability", interactive = true } = props;
  const layout = probabilityLayout(result, props);
  const { plot, x, y, lowestAge } = layout;
  const points = result.plotPoints;
  const small = points.length > 60;
  const aside = asideOf(points);
  const [value, lower, upper] = (["value", "lower", "upper"] as const).map((line) =>
    fittedPoints(result, layout, line),
  );
  const edge = Math.max(plot.left, Math.min(plot.right, x(result.longestAge)));
  const at = (age: number): number => (age <= lowestAge ? plot.left : Math.min(plot.right, x(age)));
  const drawn = [
    ...boxesAlong(value ?? []),
    ...points.flatMap((point) =>
      boxesAlong([
        [at(point.low), y(point.failedFraction)],
        [at(point.high), y(point.failedFraction)],
      ]),
    ),
  ];
  const labels = placeLabels(result, layout, value ?? [], drawn);
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <LeftAxis plot={plot} ticks={layout.yTicks} title={layout.yTitle} titleX={gutter} theme={theme} />
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} grid />
      {value && upper && lower && value.length > 0 && (
        <g {...unread}>
          <FittedBand {...{ upper, lower, plot, edge, theme }} />
        </g>
      )}
      <g data-marks="failures">
        {points.map((point, index) => {
          const [from, to, level] = [at(point.low), at(point.high), y(point.failedFraction) + (aside[index] ?? 0)];
          return (
            <Target
              key={point.lifeIds.join()}
              label={pointLabel(point)}
              data={{ lives: JSON.stringify(point.lifeIds) }}
              interactive={interactive}
              stop={points.length <= mostStops || index === 0}
            >
              {point.low === point.high ? (
                <ExactMark x={to} y={level} radius={small ? 2.5 : 3.5} theme={theme} />
              ) : (
                <CappedBar
                  from={from}
                  to={to}
                  y={level}
                  cap={small ? 2 : 3.5}
                  thickness={small ? 1 : 1.5}
                  theme={theme}
                  {...(point.low <= lowestAge ? { open: "from" as const } : {})}
                />
              )}
              <HitArea x={from - 4} y={level - 5} width={to - from + 8} height={10} />
            </Target>
          );
        })}
      </g>
      {value && value.length > 0 && (
        <g {...unread}>
          <FittedLine points={value} {...{ plot, edge, theme }} cut={(part) => inPlot(part, layout)} />
        </g>
      )}
      {points.length === 0 && result.survival === null && (
        <Text
          x={(plot.left + plot.right) / 2}
          y={(plot.top + plot.bottom) / 2}
          anchor="middle"
          lines={whyNoPoints(result)}
          fill={theme.muted}
          theme={theme}
        />
      )}
      <g {...unread}>
        {labels.map(({ block, tone, backed }) => (
          <Text key={block.lines.join()} {...block} fill={theme[tone]} backed={backed} theme={theme} />
        ))}
      </g>
      <line
        x1={px(plot.left)}
        x2={px(plot.left)}
        y1={px(plot.top)}
        y2={px(plot.bottom)}
        stroke={theme.muted}
        stroke-width={1}
      />
    </Frame>
  );
}

/** Points of a fitted line within the ages drawn; bounds beyond the paper run along its edge. */
function fittedPoints(
  { survival }: ItemLifeResult,
  { x, y, plot, lowestAge }: ProbabilityLayout,
  line: "value" | "lower" | "upper",
): Point[] {
  if (survival === null) return [];
  const points = survival.age.flatMap((age, index): Point[] => {
    const share = survival[line][index];
    return age > 0 && share !== undefined ? [[x(age), y(1 - share)]] : [];
  });
  const kept = between(points, x(lowestAge), plot.right);
  return line === "value"
    ? kept
    : kept.map(([across, level]): Point => [across, Math.max(plot.top, Math.min(plot.bottom, level))]);
}

/** The line itself ends where it leaves the paper. */
const inPlot = (points: readonly Point[], { plot }: ProbabilityLayout): Point[] =>
  points.filter(([, level]) => level >= plot.top - 0.5 && level <= plot.bottom + 0.5);

/** Bars at one and the same fraction are drawn side by side, at most 9 px from where they belong, so each can be seen. */
function asideOf(points: readonly PlotPoint[]): number[] {
  const levels = new Map<string, number[]>();
  points.forEach((point, index) => {
    if (point.low === point.high) return;
    const level = point.failedFraction.toPrecision(9);
    levels.set(level, [...(levels.get(level) ?? []), index]);
  });
  const aside = points.map(() => 0);
  for (const tied of levels.values()) {
    const step = Math.min(5, 18 / Math.max(1, tied.length - 1));
    tied.forEach((index, place) => {
      aside[index] = (place - (tied.length - 1) / 2) * step;
    });
  }
  return aside;
}

interface PlacedLabel {
  readonly block: TextBlock;
  readonly tone: "slate" | "muted" | "ink";
  readonly backed: boolean;
}

function placeLabels(
  result: ItemLifeResult,
  { plot, x }: ProbabilityLayout,
  value: readonly Point[],
  drawn: readonly Box[],
): PlacedLabel[] {
  const bounds: Box = {
    x: plot.left + 2,
    y: plot.top + 2,
    width: plot.right - plot.left - 4,
    height: plot.bottom - plot.top - 6,
  };
  const placed: PlacedLabel[] = [];
  const add = (
    tone: PlacedLabel["tone"],
    lines: readonly string[],
    candidates: Parameters<typeof placeBlock>[1],
  ): boolean => {
    const block = placeBlock({ lines, size: textSize, weight: "regular" }, candidates, {
      labels: placed.map((one) => blockBox(one.block)),
      drawn,
      bounds,
    });
    if (block) placed.push({ block, tone, backed: drawn.some((one) => overlaps(one, blockBox(block))) });
    return block !== null;
  };
  if (result.fit) {
    const lines = [
      `${sentenceCase(sayLaw[result.fit.distribution])} line`,
      ...lawNumbers(result.fit).map(({ name, estimate }) => `${name.toLowerCase()} ${estimateText(estimate)}`),
    ];
    const along = [0.9, 0.8, 0.7, 0.5, 0.3].map(
      (part) => value[Math.floor(part * (value.length - 1))] ?? [plot.left, plot.bottom],
    );
    add("slate", lines, [
      { x: plot.right - 8, y: plot.bottom - 48, anchor: "end" },
      { x: plot.left + 10, y: plot.top + 18, anchor: "start" },
      ...along.map(([across, level]) => ({ x: across + 14, y: level + 26, anchor: "start" as const })),
    ]);
  }
  if (result.plotPoints.length === 0 && result.survival !== null)
    add("muted", whyNoPoints(result), [
      { x: plot.left + 10, y: plot.top + 18, anchor: "start" },
      ...[0.25, 0.4, 0.55, 0.1].map((part) => ({
        x: plot.left + 10,
        y: plot.top + part * (plot.bottom - plot.top),
        anchor: "start" as const,
      })),
    ]);
  const edge = x(result.longestAge);
  if ((result.survival?.age.at(-1) ?? 0) > 1.01 * result.longestAge && edge < plot.right - 6) {
    const down = [16, 34, 60, 100, 140];
    add(
      "muted",
      ["beyond experience →"],
      down.map((by) => ({ x: edge - 5, y: plot.top + by, anchor: "end" as const })),
    );
  }
  return placed;
}

/** What stands where points are expected and there are none. */
function whyNoPoints({ counts, mode, linked }: ItemLifeResult): string[] {
  if (counts.failures === 0) return ["No failures yet,", "so nothing to plot"];
  if (linked === null || mode !== linked.defect) return ["The failures cannot be", "put on this paper"];
  return [
    `The ${counts.failures} found with ${mode} are`,
    `not drawn as points: a ${linked.failure}`,
    "decides when one looks, so",
    "points alone would mislead.",
    "The line is of the joint fit.",
  ];
}

const pointLabel = ({ low, high, failedFraction }: PlotPoint): string => {
  const when =
    low === high
      ? `failed at ${threeDigits(high)} h`
      : low === 0
        ? `found failed at the first inspection, at ${threeDigits(high)} h`
        : `failed between ${threeDigits(low)} and ${threeDigits(high)} h`;
  return `${when}: ${percent(failedFraction)} failed by then`;
};

function describe(result: ItemLifeResult): string {
  const { item, mode, fit, plotPoints } = result;
  const line = fit
    ? `The fitted ${sentenceCase(sayLaw[fit.distribution])} line has ${lawNumbers(fit)
        .map(({ name, estimate }) => `${name.toLowerCase()} ${estimateText(estimate)}`)
        .join(" and ")}.`
    : "No line could be fitted.";
  return `Failed per cent of ${item}, ${mode}, against hours, both on scales where a Weibull law is straight: ${plotPoints.length === 0 ? whyNoPoints(result).join(" ") : `${plotPoints.length} failures`}. ${line}`;
}
