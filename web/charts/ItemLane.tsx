import type { Life } from "../../analysis/index.ts";
import { HourTicks } from "./HourTicks.tsx";
import { gutter } from "./kit/Frame.tsx";
import { CappedBar, CensoredMark, ExactMark, Target } from "./kit/marks.tsx";
import { linePath, type Point } from "./kit/paths.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { refText } from "./refText.ts";
import { shortened, textWidth } from "./text/measure.ts";
import { ageText, highAge, px, threeDigits } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";
import { dayOf, type Lane, type ToolHistoryLayout, type Tooth } from "./toolHistoryLayout.ts";

interface ItemLaneProps {
  readonly lane: Lane;
  readonly layout: ToolHistoryLayout;
  readonly theme: ChartTheme;
  readonly interactive: boolean;
}

/** How the age of one item rose with every run and fell to nothing when it was restored. */
export function ItemLane({ lane, layout, theme, interactive }: ItemLaneProps) {
  const { plot, x, lastDay } = layout;
  const now =
    lane.now === null ? "" : lane.now.state === "running" ? `now ${threeDigits(lane.now.age)} h` : lane.now.state;
  const room = plot.right + 12 - gutter - textWidth(now, textSize) - 16;
  const name = shortened(lane.item, room, textSize, "semibold");
  const nameRoom = textWidth(name, textSize, "semibold") + 7;
  const modes = lane.modes.join(", ");
  return (
    <g data-marks={`ages of ${lane.item}`}>
      <g {...unread}>
        <Text x={gutter} y={lane.top - 10} text={name} weight="semibold" theme={theme} />
        {room - nameRoom > 40 && (
          <Text
            x={gutter + nameRoom}
            y={lane.top - 10}
            text={shortened(modes, room - nameRoom, textSize)}
            fill={theme.muted}
            theme={theme}
          />
        )}
        <Text
          x={plot.right + 12}
          y={lane.top - 10}
          anchor="end"
          text={now}
          fill={lane.now?.state === "failed" ? theme.accent : theme.ink}
          theme={theme}
        />
        <HourTicks ticks={lane.ticks} plot={plot} theme={theme} />
      </g>
      {lane.teeth.map((tooth) => (
        <Target
          key={tooth.since}
          label={toothLabel(lane, tooth)}
          data={{
            ...(tooth.life ? { life: tooth.life.id } : {}),
            row: refText({ table: "redresses", key: JSON.stringify([tooth.since]) }),
            item: lane.item,
          }}
          interactive={interactive}
        >
          <ToothShape tooth={tooth} lane={lane} layout={layout} theme={theme} />
        </Target>
      ))}
      {lane.failed.map((life) => (
        <FailureMark key={life.id} life={life} lane={lane} layout={layout} theme={theme} />
      ))}
      {lane.now?.state === "running" && (
        <CensoredMark x={x(lastDay)} y={lane.y(lane.now.age)} radius={2.75} theme={theme} />
      )}
    </g>
  );
}

interface LaneMarkProps {
  readonly lane: Lane;
  readonly layout: ToolHistoryLayout;
  readonly theme: ChartTheme;
}

function ToothShape({ tooth, lane, layout: { x }, theme }: LaneMarkProps & { readonly tooth: Tooth }) {
  const points = tooth.points.map(([day, age]): Point => [x(day), lane.y(age)]);
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last) return null;
  const floor = lane.bottom;
  return (
    <>
      <path
        d={`M${px(first[0])} ${px(floor)}${linePath(points).replace("M", "L")}L${px(last[0])} ${px(floor)}Z`}
        fill={theme.slate}
        fill-opacity={theme.bandOpacity}
      />
      <path
        d={`${linePath(points)}V${px(floor)}`}
        fill="none"
        stroke={theme.slate}
        stroke-width={1.5}
        stroke-dasharray={tooth.life === null ? "4 2.5" : "none"}
      />
    </>
  );
}

function FailureMark({ life, lane, layout: { x }, theme }: LaneMarkProps & { readonly life: Life }) {
  const to = x(dayOf(life.endedOn));
  const level = lane.y(highAge(life.upper ?? life.lower));
  if (life.kind === "exact") return <ExactMark x={to} y={level} theme={theme} />;
  const sound = life.looks.filter((look) => look.found.startsWith("sound")).at(-1);
  return <CappedBar from={x(dayOf(sound?.on ?? life.sinceOn))} to={to} y={level} cap={3.5} theme={theme} />;
}

function toothLabel({ item, modes }: Lane, { since, life, points }: Tooth): string {
  const reached = threeDigits(points.at(-1)?.[1] ?? 0);
  const ended =
    life === null
      ? `ran ${reached} h, not inspected yet`
      : life.kind === "exact"
        ? `${life.mode} at ${ageText(life.lower)}`
        : life.kind === "right"
          ? `ran ${reached} h, still good at ${ageText(life.lower)}`
          : `${life.mode} between ${ageText(life.lower)} and ${ageText(life.upper ?? life.lower)}`;
  return `${item} (${modes.join(", ")}), restored by ${since}: ${ended}`;
}
