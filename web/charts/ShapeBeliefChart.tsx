import { scaleLinear } from "d3-scale";
import { formatNumber, type ShapeTaken } from "../../analysis/index.ts";
import { BottomAxis, bottomAxisHeight, type Plot } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter, header } from "./kit/Frame.tsx";
import { HitArea, Target } from "./kit/marks.tsx";
import { bandPath, linePath, type Point } from "./kit/paths.ts";
import { lineHeight } from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { evenTicks } from "./kit/ticks.ts";
import { px } from "./text/numbers.ts";

const names = { prior: "before these lives", posterior: "after these lives" } as const;
const title = "Weibull shape: above 1 wears out, below 1 fails early";
/** Densities under this share of the highest are not drawn: the axis ends there. */
const LEAST = 0.004;

/** What was believed of the shape before these lives, and what is after them. Computes nothing: both densities are given. */
export function ShapeBeliefChart(props: ChartProps<ShapeTaken>) {
  const { result, theme, width, finding, height = 260, id = "shape", interactive = true } = props;
  const curves = result.curves ?? { shape: [], prior: [], posterior: [] };
  const top = Math.max(...curves.prior, ...curves.posterior, 1e-9);
  const drawn = curves.shape.flatMap((shape, index) => {
    const [prior = 0, posterior = 0] = [curves.prior[index], curves.posterior[index]];
    return Math.max(prior, posterior) > LEAST * top ? [{ shape, prior, posterior }] : [];
  });
  const head = header(finding, width).height;
  const keyTop = head + 6;
  const plot: Plot = {
    left: gutter,
    right: width - gutter,
    top: keyTop + 2 * lineHeight(textSize) + 12,
    bottom: height - bottomAxisHeight(title, width - 2 * gutter),
  };
  const last = drawn.at(-1)?.shape ?? 1;
  const x = scaleLinear([0, last], [plot.left, plot.right]);
  const y = scaleLinear([0, top], [plot.bottom, plot.top]);
  const line = (of: "prior" | "posterior"): Point[] => drawn.map((row): Point => [x(row.shape), y(row[of])]);
  const floor = drawn.map((row): Point => [x(row.shape), plot.bottom]);
  const tones = { prior: theme.muted, posterior: theme.slate } as const;
  const says = (of: "prior" | "posterior"): string => {
    const highest = drawn.reduce(
      (best, row) => (row[of] > best[of] ? row : best),
      drawn[0] ?? { shape: 0, prior: 0, posterior: 0 },
    );
    return `Shape as believed ${names[of]}: most likely ${formatNumber(highest.shape)}`;
  };
  return (
    <Frame {...{ id, width, height, theme, finding }} description={`${says("prior")}. ${says("posterior")}.`}>
      <BottomAxis
        plot={plot}
        ticks={evenTicks(last, width < 480 ? 5 : 9).map((tick) => ({ at: x(tick), text: formatNumber(tick) }))}
        title={title}
        theme={theme}
      />
      <g {...unread}>
        <path d={bandPath(line("posterior"), floor)} fill={theme.slate} fill-opacity={theme.bandOpacity} />
        {(["prior", "posterior"] as const).map((of, row) => {
          const level = keyTop + row * lineHeight(textSize);
          return (
            <g key={of}>
              <path
                d={linePath(line(of))}
                fill="none"
                stroke={tones[of]}
                stroke-width={1.75}
                stroke-dasharray={of === "prior" ? "6 3" : "none"}
              />
              <line
                x1={px(gutter)}
                x2={px(gutter + 24)}
                y1={px(level + 8)}
                y2={px(level + 8)}
                stroke={tones[of]}
                stroke-width={1.75}
                stroke-dasharray={of === "prior" ? "6 3" : "none"}
              />
              <Text x={gutter + 32} y={level + 12} text={names[of]} theme={theme} />
            </g>
          );
        })}
      </g>
      {(["prior", "posterior"] as const).map((of, row) => (
        <Target key={of} label={says(of)} interactive={interactive}>
          <HitArea x={gutter} y={keyTop + row * lineHeight(textSize)} width={160} height={lineHeight(textSize)} />
        </Target>
      ))}
    </Frame>
  );
}
