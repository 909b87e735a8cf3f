import type { RedressIntervalResult } from "../../analysis/index.ts";
import { readLine } from "../../analysis/index.ts";
import { type IntervalLayout, type IntervalPicture, intervalLayout, lineOf } from "./intervalLayout.ts";
import { type IntervalMark, intervalMarks, sayAt } from "./intervalMarks.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { FittedBand, FittedLine } from "./kit/FittedLine.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, HitArea, Target } from "./kit/marks.tsx";
import {
  type Box,
  blockBox,
  boxesAlong,
  type Candidate,
  overlaps,
  placeBlock,
  type TextBlock,
} from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

interface IntervalChartProps extends ChartProps<RedressIntervalResult> {
  readonly picture: IntervalPicture;
  /** Interval that is being tried, hours; null where none is. */
  readonly tried?: number | null;
}

/**
 * Cost, or a chance, against the redress interval: line with its band, the flat region, the least cost with its bounds,
 * what is allowed, what the shop does today, and the interval being tried. Computes no statistic.
 */
export function IntervalChart(props: IntervalChartProps) {
  const {
    result,
    picture,
    theme,
    width,
    finding,
    tried = null,
    id = `interval-${picture}`,
    interactive = true,
  } = props;
  const layout = intervalLayout(result, picture, props);
  const marks = intervalMarks(result, picture, layout);
  const { plot } = layout;
  return (
    <Frame {...{ id, width, theme, finding }} height={layout.height} description={props.description ?? describe(marks)}>
      <LeftAxis
        plot={plot}
        ticks={layout.yTicks}
        title={layout.yTitle}
        titleX={gutter}
        titleY={plot.top - 14}
        theme={theme}
      />
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} />
      {marks
        .filter(({ shape }) => shape.kind === "region")
        .map((mark) => (
          <Marked key={mark.name} {...{ mark, plot, theme, interactive }} />
        ))}
      <Line {...{ layout, theme }} />
      {marks
        .filter(({ shape }) => shape.kind !== "region")
        .map((mark) => (
          <Marked key={mark.name} {...{ mark, plot, theme, interactive }} />
        ))}
      <g {...unread}>
        {placeWords(marks, layout).map(({ block, tone, backed }) => (
          <Text key={block.lines.join()} {...block} fill={theme[tone]} backed={backed} theme={theme} />
        ))}
      </g>
      {tried === null ? null : <Tried {...{ result, picture, layout, theme, interactive }} age={tried} />}
    </Frame>
  );
}

const describe = (marks: readonly IntervalMark[]): string => marks.map(({ label }) => `${label}.`).join(" ");

/** The line with its band; dotted beyond experience. */
function Line({ layout, theme }: { readonly layout: IntervalLayout; readonly theme: ChartTheme }) {
  const { plot, line, lower, upper, experience } = layout;
  return (
    <g {...unread}>
      <FittedBand {...{ upper, lower, plot, theme }} edge={experience} />
      <FittedLine points={line} {...{ plot, theme }} edge={experience} />
    </g>
  );
}

interface MarkedProps {
  readonly mark: IntervalMark;
  readonly plot: IntervalLayout["plot"];
  readonly theme: ChartTheme;
  readonly interactive: boolean;
}

function Marked({ mark: { name, label, tone, shape }, plot, theme, interactive }: MarkedProps) {
  const colour = theme[tone];
  return (
    <Target label={label} data={{ reading: name }} interactive={interactive}>
      {shape.kind === "region" ? (
        <rect
          x={px(shape.from)}
          y={px(plot.top)}
          width={px(shape.to - shape.from)}
          height={px(plot.bottom - plot.top)}
          fill={colour}
          fill-opacity={0.1}
        />
      ) : shape.kind === "level" ? (
        <>
          <line
            x1={px(plot.left)}
            x2={px(plot.right)}
            y1={px(shape.y)}
            y2={px(shape.y)}
            stroke={colour}
            stroke-width={1.4}
            stroke-dasharray="6 4"
          />
          <HitArea x={plot.left} y={shape.y - 5} width={plot.right - plot.left} height={10} />
        </>
      ) : shape.kind === "bar" ? (
        <>
          <CappedBar from={shape.from} to={shape.to} y={shape.y} colour={colour} cap={5} theme={theme} />
          <path
            d={`M${px(shape.at)} ${px(shape.y - 5)}l5 5l-5 5l-5 -5Z`}
            fill={theme.sheet}
            stroke={colour}
            stroke-width={1.75}
          />
          <HitArea x={shape.from - 4} y={shape.y - 8} width={shape.to - shape.from + 8} height={16} />
        </>
      ) : (
        <>
          <line
            x1={px(shape.x)}
            x2={px(shape.x)}
            y1={px(shape.y)}
            y2={px(plot.bottom + 5)}
            stroke={colour}
            stroke-width={1.4}
          />
          <HitArea x={shape.x - 6} y={shape.y} width={12} height={plot.bottom - shape.y} />
        </>
      )}
    </Target>
  );
}

interface TriedProps {
  readonly result: RedressIntervalResult;
  readonly picture: IntervalPicture;
  readonly layout: IntervalLayout;
  readonly theme: ChartTheme;
  readonly interactive: boolean;
  readonly age: number;
}

/** The interval being tried: a line down the picture with a disc on the curve. */
function Tried({ result, picture, layout: { plot, x, y }, theme, interactive, age }: TriedProps) {
  const at = readLine(result.curves.age, lineOf(result, picture), age);
  if (at === null) return null;
  const level = Math.max(plot.top, y(at.value));
  return (
    <Target label={`tried, ${sayAt(result, picture, age)}`} data={{ reading: "tried" }} interactive={interactive}>
      <line
        x1={px(x(age))}
        x2={px(x(age))}
        y1={px(plot.top)}
        y2={px(plot.bottom)}
        stroke={theme.accent}
        stroke-width={1.5}
      />
      <circle cx={px(x(age))} cy={px(level)} r={5} fill={theme.accent} stroke={theme.sheet} stroke-width={1.5} />
      <HitArea x={x(age) - 6} y={plot.top} width={12} height={plot.bottom - plot.top} />
    </Target>
  );
}

interface PlacedWords {
  readonly block: TextBlock;
  readonly tone: IntervalMark["tone"];
  readonly backed: boolean;
}

/** Direct labels, each where it hides least; one that fits nowhere stands in its mark's label only. */
function placeWords(marks: readonly IntervalMark[], { plot, line, lower, upper }: IntervalLayout): PlacedWords[] {
  const bounds: Box = {
    x: plot.left + 2,
    y: plot.top + 2,
    width: plot.right - plot.left - 2,
    height: plot.bottom - plot.top - 4,
  };
  const drawn = [line, lower, upper].flatMap((points) => boxesAlong(points));
  const placed: PlacedWords[] = [];
  for (const { lines, tone, shape } of marks) {
    const block = placeBlock({ lines, size: textSize, weight: "regular" }, candidatesFor(shape, plot), {
      labels: placed.map((one) => blockBox(one.block)),
      drawn,
      bounds,
    });
    if (block !== null) placed.push({ block, tone, backed: drawn.some((one) => overlaps(one, blockBox(block))) });
  }
  return placed;
}

function candidatesFor(shape: IntervalMark["shape"], plot: IntervalLayout["plot"]): Candidate[] {
  const down = [16, 32, 48, 66, 90, 120];
  switch (shape.kind) {
    case "region":
      return down.map((by) => ({ x: (shape.from + shape.to) / 2, y: plot.top + by, anchor: "middle" }));
    case "level":
      return [-6, 16].flatMap((by): Candidate[] => [
        { x: plot.right - 4, y: shape.y + by, anchor: "end" },
        { x: plot.left + 6, y: shape.y + by, anchor: "start" },
      ]);
    case "bar":
      return [-12, 22, -26, 36, -42].flatMap((by): Candidate[] => [
        { x: shape.at, y: shape.y + by, anchor: "middle" },
        { x: shape.from, y: shape.y + by, anchor: "start" },
        { x: shape.to, y: shape.y + by, anchor: "end" },
      ]);
    case "upright":
      return down.flatMap((by): Candidate[] => [
        { x: shape.x + 7, y: plot.bottom - by, anchor: "start" },
        { x: shape.x - 7, y: plot.bottom - by, anchor: "end" },
      ]);
  }
}
