import { scaleLinear } from "d3-scale";
import { type FleetResult, formatConfidence } from "../../analysis/index.ts";
import { BottomAxis, bottomAxisHeight, tickRoom } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter, header } from "./kit/Frame.tsx";
import { CappedBar, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { evenTicks } from "./kit/ticks.ts";
import { percent, px, threeDigits } from "./text/numbers.ts";

const rowHeight = 17;
/** Of a larger fleet those with the highest chance: a picture is read, not searched. */
export const mostTools = 100;

/** Each tool's chance in its next run with its bounds, against the allowed one. Computes no statistic. */
export function FleetChart(props: ChartProps<FleetResult>) {
  const { result, theme, width, finding, id = "fleet", interactive = true } = props;
  const { allowedChance, oneSided } = result;
  const known = result.tools.filter(({ chance }) => chance.value !== null);
  const tools =
    known.length <= mostTools
      ? known
      : [...known].sort((a, b) => (b.chance.upper ?? 1) - (a.chance.upper ?? 1)).slice(0, mostTools);
  const most = Math.min(1, 1.08 * Math.max(allowedChance * 1.4, ...tools.map(({ chance }) => chance.upper ?? 0)));
  const left = gutter + tickRoom(tools.map(({ serial }) => serial));
  const right = width - gutter - 4;
  const top = header(finding, width).height + 22;
  const bottom = top + Math.max(1, tools.length) * rowHeight;
  const xTitle = "Chance that the next run is stopped by a failure, %";
  const height = bottom + bottomAxisHeight(xTitle, right - left);
  const x = scaleLinear([0, most], [left, right]);
  const ticks = evenTicks(most, Math.max(3, (right - left) / 80)).map((share) => ({
    at: x(share),
    text: threeDigits(100 * share),
  }));
  const label = `allowed ${percent(allowedChance)}`;
  return (
    <Frame
      {...{ id, width, height, theme, finding }}
      description={
        props.description ??
        `Chance in the next run of ${tools.length} tools${tools.length < known.length ? `, the highest of ${known.length}` : ""}, with bounds. ${label}.`
      }
    >
      <BottomAxis plot={{ left, right, top, bottom }} ticks={ticks} title={xTitle} theme={theme} grid />
      <line
        x1={px(x(allowedChance))}
        x2={px(x(allowedChance))}
        y1={px(top - 4)}
        y2={px(bottom)}
        stroke={theme.accent}
        stroke-width={1.4}
        stroke-dasharray="6 4"
      />
      <g {...unread}>
        <Text x={x(allowedChance)} y={top - 8} text={label} anchor="middle" fill={theme.accent} theme={theme} />
        {tools.map(({ serial }, row) => (
          <Text
            key={serial}
            x={left - 8}
            y={top + row * rowHeight + 13}
            text={serial}
            anchor="end"
            fill={theme.muted}
            theme={theme}
          />
        ))}
      </g>
      {tools.map(({ serial, reading, chance, nextRun }, row) => {
        const y = top + (row + 0.5) * rowHeight;
        const over = (chance.upper ?? 1) > allowedChance;
        const colour = over ? theme.accent : theme.slate;
        return (
          <Target
            key={serial}
            label={`${serial}, ${reading}: ${percent(chance.value ?? 0)} in a ${threeDigits(nextRun.hours)}-h run, at most ${percent(chance.upper ?? 1)} (${formatConfidence(oneSided)})`}
            data={{ row: `tools:${JSON.stringify([serial])}` }}
            interactive={interactive}
            stop={tools.length <= mostStops || row === 0}
          >
            <CappedBar
              from={x(chance.lower ?? 0)}
              to={Math.min(right, x(chance.upper ?? 1))}
              y={y}
              cap={3}
              thickness={1.5}
              colour={colour}
              theme={theme}
            />
            {over ? (
              <path d={`M${px(x(chance.value ?? 0))} ${px(y - 4.5)}l4.5 4.5l-4.5 4.5l-4.5 -4.5Z`} fill={colour} />
            ) : (
              <circle
                cx={px(x(chance.value ?? 0))}
                cy={px(y)}
                r={3.5}
                fill={theme.sheet}
                stroke={colour}
                stroke-width={1.5}
              />
            )}
            <HitArea x={left} y={y - rowHeight / 2} width={right - left} height={rowHeight} />
          </Target>
        );
      })}
    </Frame>
  );
}
