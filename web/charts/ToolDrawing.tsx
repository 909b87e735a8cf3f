import type { WhatFailsResult } from "../../analysis/index.ts";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { HitArea, Target } from "./kit/marks.tsx";
import { hatchPath } from "./kit/paths.ts";
import type { Box } from "./kit/placement.ts";
import { Text, unread } from "./kit/Text.tsx";
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
          <Shell tool={tool} layout={layout} theme={theme} />
          {tool.stations.map((station) => (
            <Target
              key={station.item.item}
              label={stationLabel(station)}
              data={{ type: tool.toolType, item: station.item.item }}
              interactive={interactive}
            >
              <Item station={station} tool={tool} layout={layout} theme={theme} />
              <Words station={station} tool={tool} layout={layout} theme={theme} />
            </Target>
          ))}
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

/** A box from along-the-tool and across-the-tool coordinates; across counts from the axis. */
function boxOf(
  { axis }: DrawnTool,
  { direction }: ToolDrawingLayout,
  from: number,
  to: number,
  inner: number,
  outer: number,
): Box {
  return direction === "level"
    ? { x: from, y: axis + inner, width: to - from, height: outer - inner }
    : { x: axis + inner, y: from, width: outer - inner, height: to - from };
}

const pointOf = ({ axis }: DrawnTool, { direction }: ToolDrawingLayout, along: number, across: number): string =>
  direction === "level" ? `${px(along)} ${px(axis + across)}` : `${px(axis + across)} ${px(along)}`;

const wall = 0.3;
const mandrel = 0.28;

/** Housing, mandrel and bore from end to end, with the uphole box and the downhole pin. */
function Shell({ tool, layout, theme }: PartProps) {
  const { radius: r } = layout;
  const { from, to } = tool;
  const p = (along: number, across: number): string => pointOf(tool, layout, along, across);
  const outline = [
    [from - 20, -0.86 * r],
    [from, -r],
    [to, -r],
    [to, -0.72 * r],
    [to + 22, -0.5 * r],
    [to + 22, 0.5 * r],
    [to, 0.72 * r],
    [to, r],
    [from, r],
    [from - 20, 0.86 * r],
  ] as const;
  const path = `M${outline.map(([along, across]) => p(along, across)).join("L")}Z`;
  const space = boxOf(tool, layout, from, to, -(1 - wall) * r, (1 - wall) * r);
  const tube = boxOf(tool, layout, from - 20, to + 22, -mandrel * r, mandrel * r);
  const bore = boxOf(tool, layout, from - 20, to + 22, -0.13 * r, 0.13 * r);
  const [first, last] =
    layout.direction === "level" ? (["uphole", "downhole"] as const) : (["uphole end", "downhole end"] as const);
  return (
    <g {...unread}>
      {tool.nameAt !== null && <Text x={gutter} y={tool.nameAt} text={tool.toolType} weight="semibold" theme={theme} />}
      <path d={path} fill={theme.metal} stroke={theme.muted} stroke-width={1} />
      <Rect box={space} fill={theme.bore} />
      <Rect box={tube} fill={theme.metal} />
      <Rect box={bore} fill={theme.bore} />
      <path
        d={`M${p(from - 20, -mandrel * r)}L${p(to + 22, -mandrel * r)}M${p(from - 20, mandrel * r)}L${p(to + 22, mandrel * r)}`}
        stroke={theme.muted}
        stroke-width={0.75}
      />
      <path
        d={`M${p(from - 24, 0)}L${p(to + 26, 0)}`}
        stroke={theme.muted}
        stroke-width={0.75}
        stroke-dasharray="10 3 2 3"
      />
      {layout.direction === "level" ? (
        <>
          <Text x={gutter} y={tool.axis + r + 20} text={first} size={11} fill={theme.muted} theme={theme} />
          <Text
            x={tool.to + 26}
            y={tool.axis - r - 12}
            anchor="end"
            text={last}
            size={11}
            fill={theme.muted}
            theme={theme}
          />
        </>
      ) : (
        <>
          <Text x={tool.axis + r + 32} y={from - 12} text={first} size={11} fill={theme.muted} theme={theme} />
          <Text x={tool.axis + r + 32} y={to + 20} text={last} size={11} fill={theme.muted} theme={theme} />
        </>
      )}
    </g>
  );
}

function Rect({
  box,
  fill,
  stroke = "none",
  corner = 0,
}: {
  readonly box: Box;
  readonly fill: string;
  readonly stroke?: string;
  readonly corner?: number;
}) {
  return (
    <rect
      x={px(box.x)}
      y={px(box.y)}
      width={px(box.width)}
      height={px(box.height)}
      rx={corner}
      fill={fill}
      stroke={stroke}
      stroke-width={stroke === "none" ? 0 : 1}
    />
  );
}

/** The shaded parts of an item, mirrored about the axis, as boxes; `corner` rounds them. */
function partsOf(
  { item, from, to }: Station,
  radius: number,
): {
  readonly from: number;
  readonly to: number;
  readonly inner: number;
  readonly outer: number;
  readonly corner: number;
}[] {
  const middle = (from + to) / 2;
  const room = to - from;
  const gap = (1 - wall) * radius;
  const shaft = mandrel * radius;
  const around = (half: number, inner: number, outer: number, corner: number) => ({
    from: middle - half,
    to: middle + half,
    inner,
    outer,
    corner,
  });
  switch (item.kind) {
    case "body":
      return [{ from: from + 2, to: to - 2, inner: gap, outer: radius, corner: 0 }];
    case "joint":
      return [around(Math.min(room * 0.42, 30), gap, radius, 0)];
    case "seal":
      return [around(Math.min(room * 0.3, 8), shaft + 1, gap, 4)];
    case "stack":
      return [around(Math.min(room * 0.44, 60), shaft + 1, gap - 1, 0)];
    case "guide":
      return [around(Math.min(room * 0.4, 22), shaft + (gap - shaft) * 0.42, gap, 2)];
    case "pin":
      return [around(Math.min(room * 0.22, 6), shaft - 3, radius + 3, 2)];
  }
}

function Item({ station, tool, layout, theme }: PartProps & { readonly station: Station }) {
  const { radius } = layout;
  const shade = station.step === null ? theme.sheet : (theme.steps[station.step] ?? theme.steps[0]);
  const halves = partsOf(station, radius).flatMap((part) => [
    { key: "near", box: boxOf(tool, layout, part.from, part.to, -part.outer, -part.inner), part },
    { key: "far", box: boxOf(tool, layout, part.from, part.to, part.inner, part.outer), part },
  ]);
  const whole = boxOf(tool, layout, station.from, station.to, -radius - 4, radius + 4);
  return (
    <>
      <HitArea {...whole} />
      {halves.map(({ key, box, part }) => (
        <g key={key}>
          <Rect box={box} fill={shade} stroke={theme.ink} corner={part.corner} />
          {station.item.few && station.step !== null && (
            <path d={hatchPath(box, 5)} fill="none" stroke={theme.ink} stroke-width={0.9} stroke-opacity={0.6} />
          )}
        </g>
      ))}
      <path
        d={detailOf(station, tool, layout)}
        fill="none"
        stroke={theme.ink}
        stroke-width={1}
        stroke-linejoin="round"
      />
    </>
  );
}

/** What tells kinds apart at a glance: shoulder and thread of a joint, leaves of a stack, the groove of a seal. */
function detailOf(station: Station, tool: DrawnTool, layout: ToolDrawingLayout): string {
  const { radius } = layout;
  const p = (along: number, across: number): string => pointOf(tool, layout, along, across);
  return partsOf(station, radius)
    .flatMap(({ from, to, inner, outer }) =>
      [-1, 1].map((side) => {
        const line = (points: readonly (readonly [number, number])[]): string =>
          `M${points.map(([along, across]) => p(along, side * across)).join("L")}`;
        if (station.item.kind === "joint") {
          const teeth = Math.max(3, Math.round((to - from - 10) / 6));
          const thread = Array.from({ length: 2 * teeth + 1 }, (_, index): readonly [number, number] => {
            const part = index / (2 * teeth);
            const depth = outer - 3 - part * (outer - inner - 6);
            return [from + 6 + part * (to - from - 6), depth - (index % 2 === 0 ? 0 : 3)];
          });
          return `${line([
            [from, outer + 3],
            [from, inner - 3],
          ])}${line([
            [from + 4, outer],
            [from + 4, inner],
          ])}${line(thread)}`;
        }
        if (station.item.kind === "stack") {
          const leaves = Math.max(4, Math.round((to - from) / 8));
          return line(
            Array.from({ length: leaves + 1 }, (_, index): readonly [number, number] => [
              from + (index / leaves) * (to - from),
              index % 2 === 0 ? inner : outer,
            ]),
          );
        }
        if (station.item.kind === "seal") {
          const lip = (to - from) * 0.3;
          return `${line([
            [from - 3, inner - 1],
            [from - 3, outer],
            [to + 3, outer],
            [to + 3, inner - 1],
          ])}${line([
            [from + lip, (inner + outer) / 2],
            [to - lip, (inner + outer) / 2],
          ])}`;
        }
        if (station.item.kind === "guide")
          return line([
            [from + 4, (inner + outer) / 2],
            [to - 4, (inner + outer) / 2],
          ]);
        return "";
      }),
    )
    .join("");
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
  const anchor = side === "beside" ? "start" : "middle";
  return (
    <>
      <path d={leader} fill="none" stroke={theme.muted} stroke-width={0.9} />
      <Text x={x} y={y} anchor={anchor} text={lines[0]} weight="semibold" theme={theme} />
      <Text x={x} y={y + 16} anchor={anchor} text={lines[1]} fill={theme.muted} theme={theme} />
    </>
  );
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
