/** A fitted line and its band; beyond experience the line is dotted and the band paler. */
import type { ChartTheme } from "../theme.ts";
import { bandPath, between, linePath, type Point } from "./paths.ts";

interface FittedProps {
  readonly plot: { readonly left: number; readonly right: number };
  /** Where experience ends, px; at or beyond the right edge where all of it is experience. */
  readonly edge: number;
  readonly theme: ChartTheme;
}

export const FittedBand = ({
  upper,
  lower,
  plot,
  edge,
  theme,
}: FittedProps & { readonly upper: readonly Point[]; readonly lower: readonly Point[] }) => (
  <>
    <path
      d={bandPath(between(upper, plot.left, edge), between(lower, plot.left, edge))}
      fill={theme.slate}
      fill-opacity={theme.bandOpacity}
    />
    <path
      d={bandPath(between(upper, edge, plot.right), between(lower, edge, plot.right))}
      fill={theme.slate}
      fill-opacity={theme.bandOpacity / 2}
    />
  </>
);

interface FittedLineProps extends FittedProps {
  readonly points: readonly Point[];
  /** Cuts each part to the paper, where the line may leave it. */
  readonly cut?: (points: readonly Point[]) => readonly Point[];
}

export const FittedLine = ({ points, plot, edge, theme, cut = (part) => part }: FittedLineProps) => (
  <>
    <path d={linePath(cut(between(points, plot.left, edge)))} fill="none" stroke={theme.slate} stroke-width={2.25} />
    <path
      d={linePath(cut(between(points, edge, plot.right)))}
      fill="none"
      stroke={theme.slate}
      stroke-width={2}
      stroke-dasharray="1.5 4"
      stroke-linecap="round"
    />
  </>
);
