import type { HistoryEvent, Row } from "../../analysis/index.ts";
import { RedressShape, TeardownShape } from "./historyShapes.tsx";
import { ExactMark, HitArea } from "./kit/marks.tsx";
import { hatchPath } from "./kit/paths.ts";
import { px, threeDigits } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";
import { dayOf, type ToolHistoryLayout } from "./toolHistoryLayout.ts";

interface EventMarkProps {
  readonly layout: ToolHistoryLayout;
  readonly theme: ChartTheme;
  readonly event: HistoryEvent;
  readonly cutoff: string;
  /** Keys of the teardowns at which a mode was found at or above its threshold. */
  readonly failedLooks: ReadonlySet<string>;
}

/** A run, a teardown or a redress where it happened. */
export function HistoryEventMark({ event: { on, event, row }, cutoff, failedLooks, layout, theme }: EventMarkProps) {
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

/** What an event says in words. */
export function eventLabel({ on, event }: HistoryEvent): string {
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
