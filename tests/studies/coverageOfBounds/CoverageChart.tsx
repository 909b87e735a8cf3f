import { scaleLinear, scaleLog } from "d3-scale";
import { line } from "d3-shape";
import { BottomAxis, LeftAxis, type Plot } from "../../../web/charts/kit/axes.tsx";
import { Frame, header } from "../../../web/charts/kit/Frame.tsx";
import { Text } from "../../../web/charts/kit/Text.tsx";
import { px } from "../../../web/charts/text/numbers.ts";
import { lightTheme as theme } from "../../../web/charts/theme.ts";

export interface CoverageLine {
  readonly method: string;
  /** Share of fleets whose truth lies below the lower bound, by expected failures, ascending. */
  readonly points: readonly { readonly failures: number; readonly share: number }[];
}

export interface CoveragePanel {
  readonly title: string;
  readonly lines: readonly CoverageLine[];
}

const [WIDTH, PANEL, HEIGHT] = [1120, 350, 300];
const MEANT = 0.05;
const MOST = 0.35;
const dashes = ["none", "6 3", "2 3", "8 3 2 3"];

/** Lower tails by expected failures, a panel a scheme: how much more often than meant a lower bound of B10 claims too much. */
export function drawCoverage(panels: readonly CoveragePanel[], finding: string) {
  const top = header(finding, WIDTH).height + 24;
  const rows = Math.ceil(panels.length / 3);
  return (
    <Frame
      id="coverage-study"
      width={WIDTH}
      height={top + rows * HEIGHT}
      theme={theme}
      finding={finding}
      description="Share of simulated fleets whose true 10 % age lies below the lower bound, against the expected number of failures, on a logarithmic axis."
    >
      {panels.map((panel, index) => (
        <Panel
          key={panel.title}
          panel={panel}
          left={16 + (index % 3) * (PANEL + 15)}
          top={top + Math.floor(index / 3) * HEIGHT}
          isLabelled={index % 3 === 0}
        />
      ))}
    </Frame>
  );
}

interface PanelProps {
  readonly panel: CoveragePanel;
  readonly left: number;
  readonly top: number;
  readonly isLabelled: boolean;
}

function Panel({ panel, left, top, isLabelled }: PanelProps) {
  const plot: Plot = { left: left + 40, right: left + PANEL - 10, top: top + 30, bottom: top + HEIGHT - 62 };
  const x = scaleLog([2.6, 58], [plot.left, plot.right]);
  const y = scaleLinear([0, MOST], [plot.bottom, plot.top]);
  const path = line<CoverageLine["points"][number]>(
    ({ failures }) => px(x(failures)),
    ({ share }) => px(y(Math.min(MOST, share))),
  );
  return (
    <g>
      <LeftAxis
        plot={plot}
        ticks={[0, 0.1, 0.2, 0.3].map((share) => ({ at: y(share), text: `${100 * share} %` }))}
        title={isLabelled ? `${panel.title}: share below the lower bound` : panel.title}
        titleX={plot.left - 36}
        theme={theme}
        grid
      />
      <BottomAxis
        plot={plot}
        ticks={[3, 5, 10, 20, 50].map((failures) => ({ at: x(failures), text: String(failures) }))}
        title="Expected failures (logarithmic)"
        theme={theme}
      />
      <line x1={plot.left} x2={plot.right} y1={px(y(MEANT))} y2={px(y(MEANT))} stroke={theme.ink} stroke-width={1} />
      <line
        x1={plot.right - 168}
        x2={plot.right - 140}
        y1={plot.top + 8 + 16 * panel.lines.length}
        y2={plot.top + 8 + 16 * panel.lines.length}
        stroke={theme.ink}
        stroke-width={1}
      />
      <Text x={plot.right - 134} y={plot.top + 12 + 16 * panel.lines.length} text="5 %, as meant" theme={theme} />
      {panel.lines.map(({ method, points }, index) => (
        <g key={method}>
          <path
            d={path(points) ?? ""}
            fill="none"
            stroke={theme.categories[index] ?? theme.ink}
            stroke-width={2}
            stroke-dasharray={dashes[index] ?? "none"}
          />
          {points.map(({ failures, share }) => (
            <circle
              key={failures}
              cx={px(x(failures))}
              cy={px(y(Math.min(MOST, share)))}
              r={2.5}
              fill={theme.categories[index] ?? theme.ink}
            />
          ))}
          <line
            x1={plot.right - 168}
            x2={plot.right - 140}
            y1={plot.top + 8 + 16 * index}
            y2={plot.top + 8 + 16 * index}
            stroke={theme.categories[index] ?? theme.ink}
            stroke-width={2}
            stroke-dasharray={dashes[index] ?? "none"}
          />
          <Text x={plot.right - 134} y={plot.top + 12 + 16 * index} text={method} theme={theme} />
        </g>
      ))}
    </g>
  );
}
