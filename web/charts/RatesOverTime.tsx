import type { WhatFailsResult } from "../../analysis/index.ts";
import { LeftAxis } from "./kit/axes.tsx";
import { CategoryMark, categoryColour, categoryDashes } from "./kit/CategoryMark.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { HitArea, Target, UprightBar } from "./kit/marks.tsx";
import { linePath, type Point } from "./kit/paths.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import {
  type ModeName,
  type OverTimeLayout,
  ratesOverTimeLayout,
  type Series,
  type SeriesPoint,
} from "./ratesOverTimeLayout.ts";
import { boundsText, px, threeDigits, whole } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

/** Failure rates half-year by half-year with their bounds, of up to six chosen modes or of all together. */
export function RatesOverTime(props: ChartProps<WhatFailsResult> & { readonly modes?: readonly ModeName[] }) {
  const { result, theme, width, finding, id = "over-time", interactive = true } = props;
  const layout = ratesOverTimeLayout(result, props);
  const { plot, y, series } = layout;
  const single = series.length === 1;
  const toneOf = (order: number): string => (single ? theme.accent : categoryColour(order, theme));
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(layout)}
    >
      <LeftAxis plot={plot} ticks={layout.yTicks} title={layout.yTitle} titleX={gutter} theme={theme} />
      <g {...unread}>
        <line
          x1={px(plot.left)}
          x2={px(plot.right)}
          y1={px(plot.bottom)}
          y2={px(plot.bottom)}
          stroke={theme.muted}
          stroke-width={1}
        />
        {layout.xTicks.map((tick) => (
          <Text
            key={tick.text}
            x={tick.at}
            y={plot.bottom + 18}
            lines={tick.lines}
            anchor="middle"
            fill={theme.muted}
            theme={theme}
          />
        ))}
        {series.map(({ name, order, points }) => (
          <path
            key={name}
            d={linePath(points.flatMap(({ x, rate }): Point[] => (rate.value === null ? [] : [[x, y(rate.value)]])))}
            fill="none"
            stroke={toneOf(order)}
            stroke-width={1.5}
            stroke-opacity={0.75}
            stroke-dasharray={single ? "none" : (categoryDashes[order] ?? "none")}
          />
        ))}
      </g>
      {series.map((one) => (
        <g key={one.name} data-marks="rates over time">
          {one.points.map((point) => (
            <Target
              key={point.period}
              label={pointLabel(one, point)}
              data={{ period: point.period, ...(one.of ? { item: one.of.item, mode: one.of.mode } : {}) }}
              interactive={interactive}
            >
              <PointMark {...{ point, layout, theme, single }} order={one.order} tone={toneOf(one.order)} />
            </Target>
          ))}
        </g>
      ))}
      <g {...unread}>
        <Names {...{ layout, theme, single }} />
      </g>
    </Frame>
  );
}

interface PointMarkProps {
  readonly point: SeriesPoint;
  readonly layout: OverTimeLayout;
  readonly theme: ChartTheme;
  readonly single: boolean;
  readonly order: number;
  readonly tone: string;
}

function PointMark({ point: { x, rate, failures }, layout: { y, plot }, theme, single, order, tone }: PointMarkProps) {
  if (rate.value === null) return null;
  const beyond = rate.upper === null || y(rate.upper) < plot.top;
  const top = beyond ? plot.top : y(rate.upper ?? 0);
  const few = failures < 5;
  return (
    <>
      {beyond ? (
        <path
          d={`M${px(x)} ${px(y(rate.lower ?? 0))}V${px(top)}M${px(x - 4)} ${px(y(rate.lower ?? 0))}h8M${px(x - 3)} ${px(top + 5)}L${px(x)} ${px(top)}L${px(x + 3)} ${px(top + 5)}`}
          fill="none"
          stroke={tone}
          stroke-width={1.25}
        />
      ) : (
        <UprightBar
          x={x}
          top={top}
          bottom={y(rate.lower ?? 0)}
          colour={tone}
          cap={3.5}
          thickness={1.25}
          theme={theme}
        />
      )}
      {single ? (
        <circle
          cx={px(x)}
          cy={px(y(rate.value))}
          r={4.5}
          fill={few ? theme.sheet : tone}
          stroke={tone}
          stroke-width={1.5}
        />
      ) : (
        <CategoryMark order={order} x={x} y={y(rate.value)} hollow={few} theme={theme} />
      )}
      <HitArea x={x - 6} y={top - 4} width={12} height={y(rate.lower ?? 0) - top + 8} />
    </>
  );
}

/** Names at the right ends, moved apart where lines end close together; in rows above a narrow picture. */
function Names({
  layout,
  theme,
  single,
}: {
  readonly layout: OverTimeLayout;
  readonly theme: ChartTheme;
  readonly single: boolean;
}) {
  const { series, plot, y } = layout;
  if (layout.namesAt === "rows") {
    return (
      <>
        {series.map(({ name, order }, index) => (
          <Name key={name} {...{ name, order, theme, single }} x={gutter + 12} y={layout.keyTop + 12 + index * 18} />
        ))}
      </>
    );
  }
  const wanted = series
    .map(({ name, order, points }) => {
      const last = points.at(-1);
      return { name, order, end: last ? y(last.rate.value ?? 0) : plot.bottom, from: last?.x ?? plot.right };
    })
    .sort((a, b) => a.end - b.end);
  const at = apart(
    wanted.map((one) => one.end + 4),
    17,
    plot.top + 8,
    plot.bottom,
  );
  return (
    <>
      {wanted.map(({ name, order, end, from }, index) => (
        <>
          <path
            d={`M${px(from + 8)} ${px(end)}L${px(plot.right - 2)} ${px((at[index] ?? end) - 4)}`}
            fill="none"
            stroke={theme.rule}
            stroke-width={1}
          />
          <Name key={name} {...{ name, order, theme, single }} x={plot.right + 8} y={at[index] ?? end} />
        </>
      ))}
    </>
  );
}

interface NameProps {
  readonly name: string;
  readonly order: number;
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
  readonly single: boolean;
}

function Name({ name, order, x, y, theme, single }: NameProps) {
  return (
    <>
      {single ? (
        <circle cx={px(x)} cy={px(y - 4)} r={4.5} fill={theme.accent} />
      ) : (
        <CategoryMark order={order} x={x} y={y - 4} theme={theme} />
      )}
      <Text x={x + 12} y={y} text={name} size={textSize} theme={theme} />
    </>
  );
}

/** Ascending positions at least `gap` apart, as near to the wanted ones as top-down and bottom-up passes leave them. */
function apart(wanted: readonly number[], gap: number, top: number, bottom: number): number[] {
  const at = [...wanted];
  for (let index = 0; index < at.length; index++)
    at[index] = Math.max(at[index] ?? 0, index === 0 ? top : (at[index - 1] ?? 0) + gap);
  for (let index = at.length - 1; index >= 0; index--)
    at[index] = Math.min(at[index] ?? 0, index === at.length - 1 ? bottom : (at[index + 1] ?? 0) - gap);
  return at;
}

function pointLabel({ name }: Series, { period, failures, hours, rate }: SeriesPoint): string {
  const value =
    rate.value === null
      ? (rate.why ?? "not known")
      : `${threeDigits(rate.value)} per 1,000 h (${boundsText(rate)}, ${threeDigits(100 * rate.confidence)} %)`;
  return `${name}, ${period}: ${value}; ${failures === 0 ? "no failures" : `${whole(failures)} failed`} in ${whole(hours)} h`;
}

const describe = ({ series }: OverTimeLayout): string =>
  `Failures per 1,000 hours half-year by half-year with exact bounds, of ${series.map((one) => one.name).join("; ")}. Hollow marks rest on fewer than 5 failures.`;
