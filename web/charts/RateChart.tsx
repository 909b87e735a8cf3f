import type { ModeRate, WhatFailsResult } from "../../analysis/index.ts";
import { BottomAxis } from "./kit/axes.tsx";
import { FewMark } from "./kit/FewMark.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, HitArea, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { type RateLayout, type RateRow, rateLayout } from "./rateLayout.ts";
import { boundsText, px, threeDigits, whole } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

/** How often each mode of each item fails, with exact bounds, from zero: the item that fails most stands on top. */
export function RateChart(props: ChartProps<WhatFailsResult>) {
  const { result, theme, width, finding, id = "rates", interactive = true } = props;
  const layout = rateLayout(result, props);
  const { plot, groups, rowHeight } = layout;
  const few = result.modes.some((mode) => mode.few);
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} grid />
      <g {...unread}>
        <Text
          x={layout.countAt}
          y={plot.top - 12}
          anchor="end"
          text={layout.countTitle}
          fill={theme.muted}
          theme={theme}
        />
        {few && (
          <>
            <FewMark x={gutter + 5} y={plot.top - 16} theme={theme} />
            <Text x={gutter + 16} y={plot.top - 12} text="fewer than 5 failures" fill={theme.muted} theme={theme} />
          </>
        )}
      </g>
      {groups.map((group) => (
        <g key={`${group.toolType} ${group.item}`} data-marks="rates">
          <line
            x1={gutter}
            x2={px(width - gutter)}
            y1={px(group.y - 1)}
            y2={px(group.y - 1)}
            stroke={theme.rule}
            stroke-width={1}
          />
          <Text x={gutter} y={group.y + 15} text={group.item} weight="semibold" theme={theme} />
          {group.toolTypeAt !== null && (
            <Text x={group.toolTypeAt} y={group.y + 15} text={group.toolType} fill={theme.muted} theme={theme} />
          )}
          <line
            x1={px(plot.left)}
            x2={px(plot.left)}
            y1={px((group.rows[0]?.y ?? group.y) - rowHeight / 2)}
            y2={px((group.rows.at(-1)?.y ?? group.y) + rowHeight / 2)}
            stroke={theme.muted}
            stroke-width={1}
          />
          {group.rows.map((row) => (
            <Target
              key={row.rate.mode}
              label={rateLabel(row.rate)}
              data={{ type: row.rate.toolType, item: row.rate.item, mode: row.rate.mode }}
              interactive={interactive}
            >
              <HitArea x={gutter} y={row.y - rowHeight / 2} width={width - 2 * gutter} height={rowHeight} />
              <Dot row={row} layout={layout} theme={theme} />
            </Target>
          ))}
          {/* The target above says the whole row; its texts stand beside it, so that none of them seems to be its name. */}
          <g {...unread} pointer-events="none">
            {group.rows.map((row) => (
              <g key={row.rate.mode}>
                <Text x={layout.modeAt} y={row.y + 4} text={row.rate.mode} theme={theme} />
                {layout.valueAt !== null && (
                  <Text x={layout.valueAt} y={row.y + 4} anchor="end" text={row.value} theme={theme} />
                )}
                <Text x={layout.countAt} y={row.y + 4} anchor="end" text={row.count} fill={theme.muted} theme={theme} />
              </g>
            ))}
          </g>
        </g>
      ))}
    </Frame>
  );
}

function Dot({
  row: { rate, y },
  layout: { x, plot },
  theme,
}: {
  readonly row: RateRow;
  readonly layout: RateLayout;
  readonly theme: ChartTheme;
}) {
  const { value, lower, upper } = rate.rate;
  if (value === null) return null;
  const beyond = upper === null || x(upper) > plot.right;
  const to = beyond ? plot.right : x(upper);
  return (
    <>
      <CappedBar
        from={x(lower ?? 0)}
        to={to}
        y={y}
        colour={theme.accent}
        thickness={rate.few ? 1.25 : 1.75}
        theme={theme}
        {...(beyond ? { open: "to" as const } : {})}
      />
      {beyond && (
        <path
          d={`M${px(to - 4)} ${px(y - 4)}L${px(to)} ${px(y)}L${px(to - 4)} ${px(y + 4)}`}
          fill="none"
          stroke={theme.accent}
          stroke-width={1.25}
        />
      )}
      {rate.few ? (
        <FewMark x={x(value)} y={y} theme={theme} />
      ) : (
        <circle cx={px(x(value))} cy={px(y)} r={4.5} fill={theme.accent} />
      )}
    </>
  );
}

/** What a row says in words. */
export function rateLabel({ item, mode, rate, failures, hours, announces, few }: ModeRate): string {
  const counted = `${failures === 0 ? "no failures" : failures === 1 ? "1 failure" : `${whole(failures)} failures`} in ${whole(hours)} h ${announces === "hidden" ? "inspected" : "run"}`;
  const value =
    rate.value === null
      ? (rate.why ?? "not known")
      : `${threeDigits(rate.value)} per 1,000 h (${boundsText(rate)}, ${threeDigits(100 * rate.confidence)} %)`;
  return `${item}, ${mode}: ${value}; ${counted}${few ? ", few failures" : ""}`;
}

const describe = ({ modes, tools, runs }: WhatFailsResult): string =>
  `Failures per 1,000 hours of ${modes.length} modes with exact bounds, grouped by item, from ${whole(tools)} tools and ${whole(runs)} runs. ` +
  "Modes that only an inspection shows are counted per inspected hour, others per hour run.";
