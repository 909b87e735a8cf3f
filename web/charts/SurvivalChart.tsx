import type { ItemLifeResult, LifeHistory } from "../../analysis/index.ts";
import { BottomAxis, LeftAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, CensoredMark, ExactMark, HitArea, mostStops, Target, UprightBar } from "./kit/marks.tsx";
import { bandPath, between, linePath, type Point } from "./kit/paths.ts";
import {
  type Box,
  blockBox,
  boxesAlong,
  type Candidate,
  overlaps,
  placeBlock,
  type TextBlock,
} from "./kit/placement.ts";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { onCurve, type SurvivalLayout, survivalLayout } from "./survivalLayout.ts";
import { ageText, estimateText, highAge, lowAge, percent, px, threeDigits } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

/**
 * Share still good against hours since restored: the fitted line with its band, what was observed as steps, the readings
 * drawn down to the axis with their bounds. Computes no statistic.
 */
export function SurvivalChart(props: ChartProps<ItemLifeResult>) {
  const { result, theme, width, finding, id = "survival", interactive = true } = props;
  const layout = survivalLayout(result, props);
  const { plot, x, y } = layout;
  const survivors = result.histories.filter((life) => life.kind === "right");
  const small = survivors.length > 150 || width < 480;
  const labels = placeLabels(result, layout);
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <LeftAxis
        plot={plot}
        ticks={layout.yTicks}
        title={layout.yTitle}
        titleX={gutter}
        titleY={plot.top - 30}
        theme={theme}
      />
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} />
      {survivors.length > 0 && (
        <g {...unread}>
          <Text
            x={plot.right}
            y={plot.top - 30}
            anchor="end"
            text={`still good when last seen: ${survivors.length}`}
            fill={theme.muted}
            theme={theme}
          />
        </g>
      )}
      <g data-marks="survivors">
        {survivors.map((life, index) => (
          <Target
            key={life.lifeId}
            label={survivorLabel(life)}
            data={{ life: life.lifeId }}
            interactive={interactive}
            stop={survivors.length <= mostStops || index === 0}
          >
            <CensoredMark x={x(lowAge(life.lower))} y={layout.survivorsAt} radius={small ? 2 : 2.75} theme={theme} />
            <HitArea x={x(lowAge(life.lower)) - 4} y={layout.survivorsAt - 8} width={12} height={16} />
          </Target>
        ))}
      </g>
      <Fitted {...{ result, layout, theme }} />
      <Observed {...{ result, layout, theme, interactive }} />
      <Readings {...{ result, layout, theme, interactive }} />
      {result.survival === null && (
        <Text
          x={(plot.left + plot.right) / 2}
          y={(plot.top + plot.bottom) / 2}
          anchor="middle"
          lines={["No fitted line:", result.readings.b10.why ?? "no maximum"]}
          fill={theme.muted}
          theme={theme}
        />
      )}
      <g {...unread}>
        {labels.map(({ block, tone, backed }) => (
          <Text key={block.lines.join()} {...block} fill={theme[tone]} backed={backed} theme={theme} />
        ))}
      </g>
      <line x1={px(plot.left)} x2={px(plot.right)} y1={px(y(0))} y2={px(y(0))} stroke={theme.muted} stroke-width={1} />
    </Frame>
  );
}

interface PartProps {
  readonly result: ItemLifeResult;
  readonly layout: SurvivalLayout;
  readonly theme: ChartTheme;
}

const curvePoints = (
  { survival }: ItemLifeResult,
  { x, y }: SurvivalLayout,
  line: "value" | "lower" | "upper",
): Point[] =>
  survival === null
    ? []
    : between(
        survival.age.map((age, index): Point => [x(age), y(survival[line][index] ?? 0)]),
        ...(x.range() as [number, number]),
      );

function Fitted({ result, layout, theme }: PartProps) {
  const { plot, x } = layout;
  const [value, lower, upper] = (["value", "lower", "upper"] as const).map((line) => curvePoints(result, layout, line));
  if (!value || !lower || !upper || value.length === 0) return null;
  const edge = Math.min(plot.right, x(result.longestAge));
  return (
    <g {...unread}>
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
      <path d={linePath(between(value, plot.left, edge))} fill="none" stroke={theme.slate} stroke-width={2.25} />
      <path
        d={linePath(between(value, edge, plot.right))}
        fill="none"
        stroke={theme.slate}
        stroke-width={2}
        stroke-dasharray="1.5 4"
        stroke-linecap="round"
      />
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

function Observed({ result, layout, theme, interactive }: PartProps & { readonly interactive: boolean }) {
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

/** Steps where the estimate is determined; nothing is drawn inside an undetermined region. */
function stepPath({ nonparametric, longestAge }: ItemLifeResult, { x, y }: SurvivalLayout): string {
  if (nonparametric.method === "none") return "";
  let path = `M${px(x(0))} ${px(y(1))}`;
  for (const step of nonparametric.steps) {
    path += `H${px(x(step.from))}${step.to > step.from ? `M${px(x(step.to))} ${px(y(step.survival))}` : `V${px(y(step.survival))}`}`;
  }
  return `${path}H${px(x(Math.max(longestAge, nonparametric.steps.at(-1)?.to ?? 0)))}`;
}

/** Failures whose known interval covers a step: a step of a Turnbull curve belongs to several lives at once. */
const livesOf = (histories: readonly LifeHistory[], from: number, to: number): string[] =>
  histories
    .filter((life) => life.upper !== null && highAge(life.lower) <= from + 1e-9 && highAge(life.upper) >= to - 1e-9)
    .map((life) => life.lifeId);

interface Reading {
  readonly name: string;
  readonly label: string;
  readonly lines: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly across: readonly [low: number, high: number, open: "from" | "to" | "both" | undefined] | null;
  readonly upright: readonly [top: number, bottom: number] | null;
}

function readingsOf({ readings, survival, nonparametric }: ItemLifeResult, { x, y, plot }: SurvivalLayout): Reading[] {
  // On a narrow picture the bounds are drawn but not written; the label read out says them.
  const narrow = plot.right - plot.left < 420;
  const ages = (
    [
      ["b10", "one in ten failed by", 0.9, readings.b10],
      ["median", "half failed by", 0.5, readings.median],
    ] as const
  ).flatMap(([name, words, share, estimate]): Reading[] => {
    if (estimate.value === null || x(estimate.value) > plot.right) return [];
    const low = estimate.lower === null ? plot.left : x(estimate.lower);
    const high = estimate.upper === null ? plot.right : Math.min(plot.right, x(estimate.upper));
    const openHigh = estimate.upper === null || x(estimate.upper) > plot.right;
    const open = estimate.lower === null ? (openHigh ? "both" : "from") : openHigh ? "to" : undefined;
    const text = estimateText(estimate);
    return [
      {
        name,
        label: `${words} ${text}`,
        lines: narrow ? [words, `${threeDigits(estimate.value)} h`] : [words, text],
        x: x(estimate.value),
        y: y(share),
        across: [low, high, open],
        upright: null,
      },
    ];
  });
  const { statedAge, reliability } = readings;
  if (reliability.value === null || x(statedAge) > plot.right) return ages;
  const words = `still good at ${threeDigits(statedAge)} h`;
  const text = estimateText(reliability);
  const at = survival === null ? null : onCurve(survival, statedAge);
  return [
    ...ages,
    {
      name: "stated age",
      label: `${words}: ${text}`,
      lines: [words, narrow ? percent(reliability.value) : text],
      x: x(statedAge),
      y: y(at ?? reliability.value),
      across: null,
      upright: [y(reliability.upper ?? 1), y(reliability.lower ?? nonparametric.steps.at(-1)?.survival ?? 0)],
    },
  ];
}

function Readings({ result, layout, theme, interactive }: PartProps & { readonly interactive: boolean }) {
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
          <path
            d={`M${px(reading.x)} ${px(reading.y - 5)}l5 5l-5 5l-5 -5Z`}
            fill={theme.sheet}
            stroke={theme.slate}
            stroke-width={1.75}
          />
          <HitArea x={reading.x - 6} y={reading.y - 8} width={12} height={plot.bottom - reading.y + 8} />
        </Target>
      ))}
    </g>
  );
}

interface PlacedLabel {
  readonly block: TextBlock;
  readonly tone: "ink" | "muted" | "slate";
  /** Stands on something drawn. */
  readonly backed: boolean;
}

/** Direct labels: readings first, then what each line is, each where it hides least. */
function placeLabels(result: ItemLifeResult, layout: SurvivalLayout): PlacedLabel[] {
  const { plot, x, y } = layout;
  const bounds: Box = {
    x: plot.left + 2,
    y: plot.top + 2,
    width: plot.right - plot.left - 2,
    height: plot.bottom - plot.top - 6,
  };
  const readings = readingsOf(result, layout);
  const drawn: Box[] = [
    ...(["value", "lower", "upper"] as const).flatMap((line) => boxesAlong(curvePoints(result, layout, line))),
    ...boxesAlong(observedPoints(result, layout)),
    ...(["lower", "upper"] as const).flatMap((side) => boxesAlong(boundPoints(result, layout, side))),
    ...readings.flatMap((one) =>
      boxesAlong([
        [one.x, one.y],
        [one.x, plot.bottom],
      ]),
    ),
    ...readings.flatMap(({ across, y: at }) =>
      across
        ? boxesAlong([
            [across[0], at],
            [across[1], at],
          ])
        : [],
    ),
  ];
  const placed: PlacedLabel[] = [];
  const add = (
    tone: PlacedLabel["tone"],
    text: Pick<TextBlock, "lines" | "size" | "weight">,
    candidates: readonly Candidate[],
  ) => {
    const block = placeBlock(text, candidates, { labels: placed.map((one) => blockBox(one.block)), drawn, bounds });
    if (block) placed.push({ block, tone, backed: drawn.some((one) => overlaps(one, blockBox(block))) });
  };
  for (const reading of readings) {
    const right = reading.across ? reading.across[1] : reading.x;
    const left = reading.across ? reading.across[0] : reading.x;
    add("ink", { lines: reading.lines, size: textSize, weight: "regular" }, [
      ...(reading.upright
        ? [
            { x: reading.x - 8, y: reading.upright[1] + 18, anchor: "end" as const },
            { x: reading.x + 8, y: reading.upright[1] + 22, anchor: "start" as const },
            ...below(reading.x, plot),
          ]
        : []),
      { x: right + 9, y: reading.y - 3, anchor: "start" },
      { x: right + 9, y: reading.y - 16, anchor: "start" },
      { x: right + 9, y: reading.y + 8, anchor: "start" },
      { x: reading.x + 8, y: reading.y - 26, anchor: "start" },
      { x: left - 8, y: reading.y + 18, anchor: "end" },
      ...below(reading.x, plot),
    ]);
  }
  const edge = x(result.longestAge);
  if (isBeyond(result, layout)) {
    const down = [16, 34, 52, 70, 90, 120];
    for (const lines of [["beyond experience"], ["beyond", "experience"], ["beyond experience →"]]) {
      const before = placed.length;
      const arrow = lines[0]?.endsWith("→") ?? false;
      add("muted", { lines, size: textSize, weight: "regular" }, [
        ...down.map(
          (by): Candidate => ({ x: arrow ? edge - 5 : edge + 6, y: plot.top + by, anchor: arrow ? "end" : "start" }),
        ),
      ]);
      if (placed.length > before) break;
    }
  }
  const share = (age: number): number => (result.survival ? (onCurve(result.survival, age) ?? 0) : 0);
  if (result.survival !== null) {
    add("slate", { lines: ["fitted"], size: textSize, weight: "semibold" }, [
      ...[0.7, 0.6, 0.8, 0.4, 0.25].map(
        (part): Candidate => ({
          x: x(part * result.longestAge) + 8,
          y: y(share(part * result.longestAge)) - 8,
          anchor: "start",
        }),
      ),
    ]);
  }
  const steps = observedPoints(result, layout);
  if (steps.length > 0)
    add("ink", { lines: ["as observed"], size: textSize, weight: "semibold" }, [
      ...[0.55, 0.7, 0.4, 0.85, 0.25, 0.97].flatMap((part): Candidate[] => {
        const at = steps[Math.min(steps.length - 1, Math.floor(part * steps.length))] ?? [plot.left, plot.top];
        return [
          { x: at[0] - 8, y: at[1] + 18, anchor: "end" },
          { x: at[0] + 8, y: at[1] - 8, anchor: "start" },
        ];
      }),
    ]);
  return placed;
}

/** Whether the fitted line is drawn past the longest age followed. */
const isBeyond = ({ survival, longestAge }: ItemLifeResult, { plot, x }: SurvivalLayout): boolean =>
  x(longestAge) < plot.right - 2 && (survival?.age.at(-1) ?? 0) > 1.01 * longestAge;

/** Places near the foot of an upright line, on either side. */
const below = (x: number, plot: SurvivalLayout["plot"]): Candidate[] =>
  [30, 64, 98, 132].flatMap((up): Candidate[] => [
    { x: x + 8, y: plot.bottom - up, anchor: "start" },
    { x: x - 8, y: plot.bottom - up, anchor: "end" },
  ]);

function observedPoints({ nonparametric, longestAge }: ItemLifeResult, { x, y }: SurvivalLayout): Point[] {
  if (nonparametric.method === "none") return [];
  const points: Point[] = [[x(0), y(1)]];
  for (const step of nonparametric.steps) {
    points.push([x(step.from), points.at(-1)?.[1] ?? y(1)], [x(step.to), y(step.survival)]);
  }
  points.push([x(Math.max(longestAge, nonparametric.steps.at(-1)?.to ?? 0)), points.at(-1)?.[1] ?? y(1)]);
  return points;
}

/** Corners of the bounds of the observed steps; none where the method has none. */
function boundPoints(
  { nonparametric, longestAge }: ItemLifeResult,
  { x, y }: SurvivalLayout,
  side: "lower" | "upper",
): Point[] {
  const corners = nonparametric.steps.flatMap((step): Point[] => {
    const bound = step[side];
    return bound === null ? [] : [[x(step.to), y(bound)]];
  });
  const points = corners.flatMap((corner, index): Point[] => {
    const before = corners[index - 1];
    return before ? [[corner[0], before[1]], corner] : [corner];
  });
  const last = points.at(-1);
  return last ? [...points, [Math.max(last[0], x(longestAge)), last[1]]] : [];
}

const survivorLabel = (life: LifeHistory): string =>
  `${life.serial}, restored ${life.sinceOn}: still good at ${ageText(life.lower)}`;

function describe(result: ItemLifeResult): string {
  const { item, mode, counts, readings } = result;
  const observed = result.nonparametric.method !== "none";
  const fitted = result.survival
    ? `A fitted line with its bounds${observed ? ", and what was observed as steps" : ""}.`
    : observed
      ? "What was observed, as steps."
      : "Nothing could be estimated.";
  return [
    `Share of ${item} still good against hours since restored, for ${mode}: ${counts.failures} failures among ${counts.lives} lives.`,
    fitted,
    `One in ten failed by ${estimateText(readings.b10)}; half by ${estimateText(readings.median)}.`,
  ].join(" ");
}
