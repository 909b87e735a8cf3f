import type { WhatFailsResult } from "../../analysis/index.ts";
import { DrawnItem } from "./DrawnItem.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { HitArea, Target } from "./kit/marks.tsx";
import { hatchPath } from "./kit/paths.ts";
import { type Box, blockBox } from "./kit/placement.ts";
import { Rect } from "./kit/Rect.tsx";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { ToolShell } from "./ToolShell.tsx";
import { px, threeDigits, whole } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";
import { type DrawnTool, type Station, type ToolDrawingLayout, toolDrawingLayout } from "./toolDrawingLayout.ts";

/**
 * The tool cut open along its axis, built from its item list: what fails often is shaded darker, with the number beside
 * it; what rests on few failures is hatched. Level where there is room, else upright with the uphole end on top.
 */
export function ToolDrawing(props: ChartProps<WhatFailsResult>) {
  const { result, theme, width, finding, id = "drawing", interactive = true } = props;
  const layout = toolDrawingLayout(result, props);
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      {layout.tools.map((tool) => (
        <g key={tool.toolType} data-marks="items">
          <ToolShell tool={tool} layout={layout} theme={theme} />
          {tool.stations.map((station) => (
            <Target
              key={station.item.item}
              label={stationLabel(station)}
              data={{ type: tool.toolType, item: station.item.item }}
              interactive={interactive}
            >
              <DrawnItem station={station} tool={tool} layout={layout} theme={theme} />
              <HitArea {...wordsBox(station)} />
            </Target>
          ))}
          {/* The targets say the whole; the words beside the tool are short forms and no part of their names. */}
          <g {...unread} pointer-events="none">
            {tool.stations.map((station) => (
              <Words key={station.item.item} station={station} tool={tool} layout={layout} theme={theme} />
            ))}
          </g>
        </g>
      ))}
      <Legend layout={layout} theme={theme} />
    </Frame>
  );
}

interface PartProps {
  readonly tool: DrawnTool;
  readonly layout: ToolDrawingLayout;
  readonly theme: ChartTheme;
}

function Words({ station, tool, layout, theme }: PartProps & { readonly station: Station }) {
  const middle = (station.from + station.to) / 2;
  const { radius } = layout;
  const { labelX: x, labelY: y, side, lines } = station;
  const leader =
    side === "above"
      ? `M${px(middle)} ${px(tool.axis - radius - 5)}V${px(tool.axis - radius - 12)}L${px(x)} ${px(y + 22)}`
      : side === "below"
        ? `M${px(middle)} ${px(tool.axis + radius + 5)}V${px(tool.axis + radius + 12)}L${px(x)} ${px(y - 13)}`
        : `M${px(tool.axis + radius + 5)} ${px(middle)}H${px(x - 7)}`;
  const anchor = anchorOf(station);
  return (
    <>
      <path d={leader} fill="none" stroke={theme.muted} stroke-width={0.9} />
      <Text x={x} y={y} anchor={anchor} text={lines[0]} weight="semibold" theme={theme} />
      <Text x={x} y={y + 16} anchor={anchor} text={lines[1]} fill={theme.muted} theme={theme} />
    </>
  );
}

const anchorOf = ({ side }: Station) => (side === "beside" ? ("start" as const) : ("middle" as const));

/** The box of both lines of an item's words: part of what can be pointed at. */
function wordsBox(station: Station): Box {
  const { labelX: x, labelY: y, lines } = station;
  return blockBox({ lines, x, y, anchor: anchorOf(station), size: textSize, weight: "semibold" });
}

function Legend({ layout: { legend }, theme }: Pick<PartProps, "layout" | "theme">) {
  return (
    <g {...unread}>
      <Text
        x={gutter}
        y={legend.y - 8}
        text="Failures per 1,000 h, few failures drawn towards their kind"
        theme={theme}
      />
      {legend.swatches.map((box, index) => (
        <Rect key={box.x} box={box} fill={theme.steps[index] ?? theme.sheet} stroke={theme.muted} />
      ))}
      {legend.swatches.map((box, index) => (
        <Text
          key={box.x}
          x={box.x}
          y={box.y + 27}
          text={threeDigits(legend.limits[index] ?? 0)}
          size={11}
          fill={theme.muted}
          theme={theme}
        />
      ))}
      <Text
        x={(legend.swatches.at(-1)?.x ?? 0) + (legend.swatches.at(-1)?.width ?? 0)}
        y={legend.y + 27}
        anchor="end"
        text="more"
        size={11}
        fill={theme.muted}
        theme={theme}
      />
      <Rect
        box={{ x: legend.few.x, y: legend.few.y, width: 22, height: 12 }}
        fill={theme.steps[1]}
        stroke={theme.muted}
      />
      <path
        d={hatchPath({ x: legend.few.x, y: legend.few.y, width: 22, height: 12 }, 5)}
        stroke={theme.ink}
        stroke-width={0.9}
        stroke-opacity={0.6}
      />
      <Text x={legend.few.x + 29} y={legend.few.y + 10} text="fewer than 5 failures" fill={theme.muted} theme={theme} />
    </g>
  );
}

/** What an item says in words. */
export function stationLabel({ item }: Station): string {
  if (item.shrunkenRate === null) return `${item.item}: not followed`;
  const counted =
    item.failures === 0 ? "no failures" : item.failures === 1 ? "1 failure" : `${whole(item.failures)} failures`;
  return `${item.item}: about ${threeDigits(item.shrunkenRate)} failures per 1,000 h, ${counted}${item.few ? ", few failures" : ""}`;
}

const describe = ({ drawing }: WhatFailsResult): string =>
  `A drawing of the tool cut open along its axis, from the uphole end: ${drawing
    .map((tool) => `${tool.toolType}, ${tool.items.length} items`)
    .join("; ")}. A darker shade is more failures per 1,000 hours; hatching is fewer than 5 failures.`;
