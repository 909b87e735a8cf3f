import { gutter } from "./kit/Frame.tsx";
import { Rect } from "./kit/Rect.tsx";
import { Text, unread } from "./kit/Text.tsx";
import type { ChartTheme } from "./theme.ts";
import { boxOf, mandrel, pointOf, wall } from "./toolDrawingGeometry.ts";
import type { DrawnTool, ToolDrawingLayout } from "./toolDrawingLayout.ts";

interface ToolShellProps {
  readonly tool: DrawnTool;
  readonly layout: ToolDrawingLayout;
  readonly theme: ChartTheme;
}

/** Housing, mandrel and bore from end to end, with the uphole box and the downhole pin. */
export function ToolShell({ tool, layout, theme }: ToolShellProps) {
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
