import { HitArea } from "./kit/marks.tsx";
import { hatchPath } from "./kit/paths.ts";
import { Rect } from "./kit/Rect.tsx";
import type { ChartTheme } from "./theme.ts";
import { boxOf, mandrel, pointOf, wall } from "./toolDrawingGeometry.ts";
import type { DrawnTool, Station, ToolDrawingLayout } from "./toolDrawingLayout.ts";

interface DrawnItemProps {
  readonly station: Station;
  readonly tool: DrawnTool;
  readonly layout: ToolDrawingLayout;
  readonly theme: ChartTheme;
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

/** An item of the tool, shaded by its rate and hatched where that rests on few failures. */
export function DrawnItem({ station, tool, layout, theme }: DrawnItemProps) {
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
