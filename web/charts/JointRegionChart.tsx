import { scaleLinear, scaleLog } from "d3-scale";
import { formatHours, formatNumber, type GroupsCompared, sayGroup } from "../../analysis/index.ts";
import { BottomAxis, bottomAxisHeight, LeftAxis, type Plot, tickRoom } from "./kit/axes.tsx";
import { CategoryMark, categoryColour, categoryDashes } from "./kit/CategoryMark.tsx";
import { type ChartProps, Frame, gutter, header } from "./kit/Frame.tsx";
import { HitArea, Target } from "./kit/marks.tsx";
import { linePath, type Point } from "./kit/paths.ts";
import { lineHeight } from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { evenTicks, logTicks } from "./kit/ticks.ts";

const title = "Scale, hours by which 63 % have failed, log scale";
/** A region is drawn as far as this many times the estimates: open ends would leave nothing to see. */
const FARTHEST = { scale: 20, shape: 4 };

/** Which shapes and scales agree with each of two groups: where the outlines lie apart, the groups differ. */
export function JointRegionChart(props: ChartProps<GroupsCompared>) {
  const { result, theme, width, finding, height = 340, id = "regions", interactive = true } = props;
  const regions = result.compared?.regions ?? [];
  const scales = regions.map(({ scale }) => scale);
  const [least, most] = [Math.min(...scales) / FARTHEST.scale, Math.max(...scales) * FARTHEST.scale];
  const highest = Math.max(1, ...regions.map(({ shape }) => shape)) * FARTHEST.shape;
  const all = regions.flatMap(({ outline, shape, scale }) => [{ shape, scale }, ...outline]);
  const within = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value));
  const low = Math.max(least, Math.min(...all.map(({ scale }) => scale))) * 0.92;
  const high = Math.min(most, Math.max(...all.map(({ scale }) => scale))) * 1.08;
  const top = Math.min(highest, Math.max(...all.map(({ shape }) => shape))) * 1.05;
  const shapeTicks = evenTicks(top, 5);
  const keyTop = header(finding, width).height + 4;
  const plot: Plot = {
    left: gutter + tickRoom(shapeTicks.map((tick) => formatNumber(tick))),
    right: width - gutter,
    top: keyTop + (regions.length + 1) * lineHeight(textSize) + 16,
    bottom: height - bottomAxisHeight(title, width - 2 * gutter),
  };
  const x = scaleLog([low, high], [plot.left, plot.right]);
  const y = scaleLinear([0, top], [plot.bottom, plot.top]);
  const points = (outline: (typeof regions)[number]["outline"]): Point[] =>
    outline.map(({ shape, scale }): Point => [x(within(scale, low, high)), y(within(shape, 0, top))]);
  const says = ({ name, shape, scale, isOpen }: (typeof regions)[number]): string =>
    `${sayGroup(result.by, name)}: shape ${formatNumber(shape)}, scale ${formatHours(scale)}${isOpen ? "; the region is open" : ""}`;
  return (
    <Frame {...{ id, width, height, theme, finding }} description={regions.map(says).join(". ")}>
      <LeftAxis
        plot={plot}
        ticks={shapeTicks.map((tick) => ({ at: y(tick), text: formatNumber(tick) }))}
        title="Shape"
        titleX={gutter}
        theme={theme}
      />
      <BottomAxis
        plot={plot}
        ticks={logTicks(low, high).map((tick) => ({ at: x(tick), text: formatNumber(tick) }))}
        title={title}
        theme={theme}
      />
      <g {...unread}>
        {regions.map((region, order) => (
          <path
            key={region.name}
            d={`${linePath(points(region.outline))}${region.isOpen ? "" : "Z"}`}
            fill={region.isOpen ? "none" : categoryColour(order, theme)}
            fill-opacity={theme.bandOpacity}
            stroke={categoryColour(order, theme)}
            stroke-width={1.75}
            stroke-dasharray={categoryDashes[order] ?? "none"}
          />
        ))}
      </g>
      {regions.map((region, order) => {
        const level = keyTop + order * lineHeight(textSize);
        const [atX, atY] = [x(within(region.scale, low, high)), y(within(region.shape, 0, top))];
        return (
          <Target key={region.name} label={says(region)} interactive={interactive}>
            <CategoryMark order={order} x={atX} y={atY} theme={theme} />
            <HitArea x={atX - 8} y={atY - 8} width={16} height={16} />
            <g {...unread}>
              <CategoryMark order={order} x={gutter + 6} y={level + 8} theme={theme} />
              <Text x={gutter + 20} y={level + 12} text={sayGroup(result.by, region.name)} theme={theme} />
            </g>
          </Target>
        );
      })}
    </Frame>
  );
}
