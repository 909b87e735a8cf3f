import type { ItemLifeResult, LifeHistory } from "../../analysis/index.ts";
import { FittedBand, FittedLine } from "./kit/FittedLine.tsx";
import { CappedBar, ExactMark, HitArea, mostStops, Target, UprightBar } from "./kit/marks.tsx";
import { linePath } from "./kit/paths.ts";
import { unread } from "./kit/Text.tsx";
import type { SurvivalLayout } from "./survivalLayout.ts";
import { boundPoints, curvePoints, isBeyond, stepPath } from "./survivalLines.ts";
import { readingsOf } from "./survivalReadings.ts";
import { highAge, percent, px, threeDigits } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

interface PartProps {
  readonly result: ItemLifeResult;
  readonly layout: SurvivalLayout;
  readonly theme: ChartTheme;
}

/** The fitted line with its band; dotted beyond the longest life. */
export function Fitted({ result, layout, theme }: PartProps) {
  const { plot, x } = layout;
  const [value, lower, upper] = (["value", "lower", "upper"] as const).map((line) => curvePoints(result, layout, line));
  if (!value || !lower || !upper || value.length === 0) return null;
  const edge = Math.min(plot.right, x(result.longestAge));
  return (
    <g {...unread}>
      <FittedBand {...{ upper, lower, plot, edge, theme }} />
      <FittedLine points={value} {...{ plot, edge, theme }} />
      {isBeyond(result, layout) && (
        <line
          x1={px(edge)}
          x2={px(edge)}
          y1={px(plot.top)}
          y2={px(plot.bottom)}
          stroke={theme.muted}
          stroke-width={1}
          stroke-dasharray="2 3"
        />
      )}
    </g>
  );
}

/** What was observed: steps, undetermined regions, and a mark for every failure. */
export function Observed({ result, layout, theme, interactive }: PartProps & { readonly interactive: boolean }) {
  const { x, y } = layout;
  const steps = result.nonparametric.steps;
  const before = (index: number): number => steps[index - 1]?.survival ?? 1;
  const many = steps.length > 30;
  const exactAges = new Set(
    result.histories.filter((life) => life.kind === "exact").map((life) => highAge(life.lower)),
  );
  const bounds = (["lower", "upper"] as const).map((side) => linePath(boundPoints(result, layout, side)));
  return (
    <g data-marks="steps">
      <g {...unread}>
        {bounds.map((path, index) => (
          <path
            key={index === 0 ? "lower" : "upper"}
            d={path}
            fill="none"
            stroke={theme.ink}
            stroke-width={0.9}
            stroke-dasharray="3 3"
            stroke-opacity={0.65}
          />
        ))}
        {steps.map((step, index) =>
          step.to > step.from ? (
            <rect
              key={`${step.from} ${step.to}`}
              x={px(x(step.from))}
              y={px(y(before(index)))}
              width={px(x(step.to) - x(step.from))}
              height={px(y(step.survival) - y(before(index)))}
              fill={theme.ink}
              fill-opacity={0.1}
            />
          ) : null,
        )}
        <path d={stepPath(result, layout)} fill="none" stroke={theme.ink} stroke-width={1.4} />
      </g>
      {steps.map((step, index) => {
        const box = step.to > step.from;
        const at = box ? (before(index) + step.survival) / 2 : step.survival;
        // A Turnbull step without width need not be a failure seen at one age: only a life known exactly earns the disc.
        const exact = result.nonparametric.method === "product-limit" || exactAges.has(step.to);
        const lives = livesOf(result.histories, step.from, step.to);
        return (
          <Target
            key={`${step.from} ${step.to}`}
            label={
              box
                ? `failed between ${threeDigits(step.from)} and ${threeDigits(step.to)} h: still good ${percent(before(index))} before, ${percent(step.survival)} after`
                : `failed at ${threeDigits(step.to)} h: ${percent(step.survival)} still good after`
            }
            data={{ lives: JSON.stringify(lives) }}
            interactive={interactive}
            stop={steps.length <= mostStops || index === 0}
          >
            {box || !exact ? (
              <CappedBar
                from={x(step.from)}
                to={x(step.to)}
                y={y(at)}
                cap={many ? 2 : 3.5}
                thickness={many ? 1.1 : 1.75}
                theme={theme}
              />
            ) : (
              <ExactMark x={x(step.to)} y={y(at)} radius={many ? 2.25 : 3} theme={theme} />
            )}
            <HitArea x={x(step.from) - 4} y={y(at) - 6} width={x(step.to) - x(step.from) + 8} height={12} />
          </Target>
        );
      })}
    </g>
  );
}

/** Failures whose known interval covers a step: a step of a Turnbull curve belongs to several lives at once. */
const livesOf = (histories: readonly LifeHistory[], from: number, to: number): string[] =>
  histories
    .filter((life) => life.upper !== null && highAge(life.lower) <= from + 1e-9 && highAge(life.upper) >= to - 1e-9)
    .map((life) => life.lifeId);

/** The readings, drawn down to the axis with their bounds. */
export function Readings({ result, layout, theme, interactive }: PartProps & { readonly interactive: boolean }) {
  const { plot } = layout;
  return (
    <g data-marks="readings">
      {readingsOf(result, layout).map((reading) => (
        <Target key={reading.name} label={reading.label} data={{ reading: reading.name }} interactive={interactive}>
          <line
            x1={px(reading.x)}
            x2={px(reading.x)}
            y1={px(reading.y)}
            y2={px(plot.bottom + 5)}
            stroke={theme.slate}
            stroke-width={1}
          />
          {reading.across && (
            <CappedBar
              from={reading.across[0]}
              to={reading.across[1]}
              y={reading.y}
              colour={theme.slate}
              cap={5}
              theme={theme}
              {...(reading.across[2] ? { open: reading.across[2] } : {})}
            />
          )}
          {reading.upright && (
            <UprightBar x={reading.x} top={reading.upright[0]} bottom={reading.upright[1]} cap={5} theme={theme} />
          )}
          {!reading.boundOnly && (
            <path
              d={`M${px(reading.x)} ${px(reading.y - 5)}l5 5l-5 5l-5 -5Z`}
              fill={theme.sheet}
              stroke={theme.slate}
              stroke-width={1.75}
            />
          )}
          <HitArea x={reading.x - 6} y={reading.y - 8} width={12} height={plot.bottom - reading.y + 8} />
        </Target>
      ))}
    </g>
  );
}
