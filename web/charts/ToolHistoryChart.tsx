import type { HistoryEvent, Life, Row, RowRef, ToolHistoryResult } from "../../analysis/index.ts";
import { BottomAxis, type Plot, type Tick } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, CensoredMark, ExactMark, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { hatchPath, linePath, type Point } from "./kit/paths.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { shortened, textWidth } from "./text/measure.ts";
import { ageText, highAge, px, threeDigits } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";
import {
  dayOf,
  type HistoryMark,
  type Lane,
  type ToolHistoryLayout,
  type Tooth,
  toolHistoryLayout,
} from "./toolHistoryLayout.ts";

/**
 * One serial by date: its runs, teardowns and redresses on top; below, item by item, how its age rose with every run and
 * fell to nothing when it was restored.
 */
export function ToolHistoryChart(props: ChartProps<ToolHistoryResult>) {
  const { result, theme, width, finding, id = "tool-history", interactive = true } = props;
  const layout = toolHistoryLayout(result, props);
  const { plot, x } = layout;
  const shown = { layout, theme, interactive };
  const failedLooks = new Set(
    result.lives.flatMap((life) => life.looks.filter((look) => look.found === "failed").map((look) => look.row.key)),
  );
  const redresses = result.events.filter(({ event }) => event.kind === "redress");
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <g {...unread}>
        {redresses.map((event) => (
          <line
            key={event.row.key}
            x1={px(x(dayOf(event.on)))}
            x2={px(x(dayOf(event.on)))}
            y1={px(layout.redressesAt)}
            y2={px(plot.bottom)}
            stroke={theme.rule}
            stroke-width={1}
          />
        ))}
        {layout.key.map((entry) => (
          <g key={entry.mark}>
            <KeyMark mark={entry.mark} x={entry.x} y={entry.y - 4} theme={theme} />
            <Text x={entry.x + 30} y={entry.y} text={entry.text} fill={theme.muted} theme={theme} />
          </g>
        ))}
      </g>
      <BottomAxis plot={plot} ticks={layout.xTicks} title="" theme={theme} />
      <HourTicks ticks={layout.runTicks} plot={plot} theme={theme} />
      {(["run", "teardown", "redress"] as const).map((kind) => {
        const events = result.events.filter(({ event }) => event.kind === kind);
        return (
          <g key={kind} data-marks={`${kind}s`}>
            {events.map((event, index) => (
              <Target
                key={event.row.key}
                label={eventLabel(event)}
                data={{ row: refText(event.row) }}
                interactive={interactive}
                stop={events.length <= mostStops || index === 0}
              >
                <EventMark event={event} cutoff={result.provenance.cutoff} failedLooks={failedLooks} {...shown} />
              </Target>
            ))}
          </g>
        );
      })}
      {layout.lanes.map((lane) => (
        <ItemLane key={`${lane.item} ${lane.modes.join()}`} lane={lane} {...shown} />
      ))}
    </Frame>
  );
}

/** A row as the address of the rows view names it. */
const refText = ({ table, key }: RowRef): string => `${table}:${key}`;

interface Shown {
  readonly layout: ToolHistoryLayout;
  readonly theme: ChartTheme;
  readonly interactive: boolean;
}

interface EventMarkProps extends Shown {
  readonly event: HistoryEvent;
  readonly cutoff: string;
  /** Keys of the teardowns at which a mode was found at or above its threshold. */
  readonly failedLooks: ReadonlySet<string>;
}

function EventMark({ event: { on, event, row }, cutoff, failedLooks, layout, theme }: EventMarkProps) {
  const { x } = layout;
  if (event.kind === "run")
    return <RunBar run={event.run} counted={event.counted} cutoff={cutoff} layout={layout} theme={theme} />;
  const y = event.kind === "teardown" ? layout.teardownsAt : layout.redressesAt;
  const at = x(dayOf(on));
  return (
    <>
      {event.kind === "teardown" ? (
        <TeardownShape
          x={at}
          y={y}
          failed={failedLooks.has(row.key)}
          outside={event.teardown.kind === "outside only"}
          theme={theme}
        />
      ) : (
        <RedressShape x={at} y={y} theme={theme} />
      )}
      <HitArea x={at - 6} y={y - 9} width={12} height={18} />
    </>
  );
}

interface RunBarProps {
  readonly run: Row<"runs">;
  readonly counted: boolean;
  readonly cutoff: string;
  readonly layout: ToolHistoryLayout;
  readonly theme: ChartTheme;
}

function RunBar({ run, counted, cutoff, layout: { x, runsAt, runHour }, theme }: RunBarProps) {
  const from = x(dayOf(run.out_on));
  const to = Math.max(from + 2, x(dayOf(run.in_on ?? cutoff)));
  const failed = run.pulled_because === "tool failure" || run.pulled_because === "lost in hole";
  const written = run.hours !== null && run.hours !== undefined;
  const height = Math.max(2, (run.hours ?? 0) * runHour);
  const box = { x: from, y: runsAt - height, width: to - from, height };
  return (
    <>
      {written ? (
        <rect
          x={px(box.x)}
          y={px(box.y)}
          width={px(box.width)}
          height={px(box.height)}
          fill={counted ? theme.runs[0] : theme.sheet}
          stroke={failed ? theme.accent : theme.muted}
          stroke-width={failed ? 1.75 : 0.75}
        />
      ) : (
        <path
          d={`M${px(from)} ${px(runsAt)}v-24h${px(to - from)}v24`}
          fill="none"
          stroke={theme.muted}
          stroke-width={1}
          stroke-dasharray="2 2"
        />
      )}
      {written && !counted && <path d={hatchPath(box, 4)} stroke={theme.muted} stroke-width={0.75} />}
      {failed && <ExactMark x={to} y={runsAt - height} radius={3.5} theme={theme} />}
      <HitArea x={from - 2} y={runsAt - 38} width={to - from + 4} height={40} />
    </>
  );
}

/** A six-cornered nut: taken apart and looked at; filled where it found a failure, dashed where seen from outside only. */
function TeardownShape({
  x,
  y,
  failed,
  outside,
  theme,
}: {
  readonly x: number;
  readonly y: number;
  readonly failed: boolean;
  readonly outside: boolean;
  readonly theme: ChartTheme;
}) {
  return (
    <path
      d={`M${px(x - 5)} ${px(y)}l2.5 -4.5h5l2.5 4.5l-2.5 4.5h-5Z`}
      fill={failed ? theme.accent : theme.sheet}
      stroke={failed ? theme.accent : theme.ink}
      stroke-width={1.25}
      stroke-dasharray={outside ? "2 1.5" : "none"}
    />
  );
}

/** A house-shaped pointer down to the ages it restores. */
function RedressShape({ x, y, theme }: { readonly x: number; readonly y: number; readonly theme: ChartTheme }) {
  return <path d={`M${px(x - 4)} ${px(y - 6)}h8v6l-4 5l-4 -5Z`} fill={theme.ink} />;
}

function KeyMark({
  mark,
  x,
  y,
  theme,
}: {
  readonly mark: HistoryMark;
  readonly x: number;
  readonly y: number;
  readonly theme: ChartTheme;
}) {
  switch (mark) {
    case "run":
      return (
        <rect
          x={px(x + 3)}
          y={px(y - 6)}
          width={20}
          height={12}
          fill={theme.runs[0]}
          stroke={theme.muted}
          stroke-width={0.75}
        />
      );
    case "teardown":
      return <TeardownShape x={x + 13} y={y} failed={false} outside={false} theme={theme} />;
    case "redress":
      return <RedressShape x={x + 13} y={y} theme={theme} />;
    case "exact":
      return <ExactMark x={x + 13} y={y} theme={theme} />;
    case "interval":
      return <CappedBar from={x + 4} to={x + 22} y={y} theme={theme} />;
    case "age":
      return (
        <path d={`M${px(x + 2)} ${px(y + 5)}l10 -10v10l10 -10`} fill="none" stroke={theme.slate} stroke-width={1.75} />
      );
  }
}

function ItemLane({ lane, layout, theme, interactive }: Shown & { readonly lane: Lane }) {
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

function HourTicks({
  ticks,
  plot,
  theme,
}: {
  readonly ticks: readonly Tick[];
  readonly plot: Plot;
  readonly theme: ChartTheme;
}) {
  return (
    <g {...unread}>
      {ticks.map(({ at, text }) => (
        <g key={text}>
          <line
            x1={px(plot.left)}
            x2={px(plot.right)}
            y1={px(at)}
            y2={px(at)}
            stroke={text === "0" ? theme.muted : theme.rule}
            stroke-width={1}
          />
          <Text x={plot.left - 8} y={at + 4} text={text} size={11} anchor="end" fill={theme.muted} theme={theme} />
        </g>
      ))}
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

function eventLabel({ on, event }: HistoryEvent): string {
  if (event.kind === "run") {
    const { run } = event;
    const hours =
      run.hours === null || run.hours === undefined ? "hours not written down" : `${threeDigits(run.hours)} h`;
    const seen = run.item_seen ? `, ${run.item_seen}${run.mode_seen ? ` ${run.mode_seen}` : ""} seen` : "";
    return `Run ${run.run}, ${run.out_on} to ${run.in_on ?? "still out"}: ${hours}, pulled because: ${run.pulled_because}${seen}${event.counted ? "" : ", not counted"}`;
  }
  if (event.kind === "teardown") {
    const found = event.findings
      .filter((finding) => finding.condition !== "sound")
      .map((finding) => `${finding.item} ${finding.condition}`);
    const outside = event.teardown.kind === "outside only" ? ", outside only" : "";
    return `Teardown ${event.teardown.teardown}, ${on}${outside}: ${found.length > 0 ? found.join(", ") : "nothing found failed"}`;
  }
  const renewed = event.fitted.filter((fitted) => fitted.renewed).map((fitted) => fitted.item);
  return `Redress ${event.redress.redress}, ${on}, ${event.redress.reason}: ${renewed.length > 0 ? `renewed ${renewed.join(", ")}` : "nothing renewed"}`;
}

function toothLabel({ item, modes }: Lane, { since, life, points }: Tooth): string {
  const reached = threeDigits(points.at(-1)?.[1] ?? 0);
  const ended =
    life === null
      ? `ran ${reached} h, no look yet`
      : life.kind === "exact"
        ? `${life.mode} at ${ageText(life.lower)}`
        : life.kind === "right"
          ? `ran ${reached} h, still good at ${ageText(life.lower)}`
          : `${life.mode} between ${ageText(life.lower)} and ${ageText(life.upper ?? life.lower)}`;
  return `${item} (${modes.join(", ")}), restored by ${since}: ${ended}`;
}

const describe = ({ tool, runs, hours, failures, events }: ToolHistoryResult): string =>
  `The history of ${tool.serial} by date: ${runs} runs, ${ageText(hours)} in all, ${failures} failures, ` +
  `${events.filter(({ event }) => event.kind === "redress").length} redresses. Below, the age of each item rises with every run and falls to zero when it is restored.`;
