import type { ToolHistoryResult } from "../../analysis/index.ts";
import { eventLabel, HistoryEventMark } from "./HistoryEventMark.tsx";
import { HourTicks } from "./HourTicks.tsx";
import { KeyMark } from "./historyShapes.tsx";
import { ItemLane } from "./ItemLane.tsx";
import { BottomAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame } from "./kit/Frame.tsx";
import { mostStops, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { refText } from "./refText.ts";
import { ageText, px } from "./text/numbers.ts";
import { dayOf, toolHistoryLayout } from "./toolHistoryLayout.ts";

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
                <HistoryEventMark
                  event={event}
                  cutoff={result.provenance.cutoff}
                  failedLooks={failedLooks}
                  {...shown}
                />
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

const describe = ({ tool, runs, hours, failures, events }: ToolHistoryResult): string =>
  `The history of ${tool.serial} by date: ${runs} runs, ${ageText(hours)} in all, ${failures} failures, ` +
  `${events.filter(({ event }) => event.kind === "redress").length} redresses. Below, the age of each item rises with every run and falls to zero when it is restored.`;
