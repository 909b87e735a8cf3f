import {
  type BuildPracticeResult,
  type LifeMultiplier,
  type PracticeComparison,
  sayMultiplier,
  sayPracticeComparison,
} from "../../analysis/index.ts";
import { BottomAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame, gutter } from "./kit/Frame.tsx";
import { CappedBar, HitArea, Target } from "./kit/marks.tsx";
import { Text, textSize, unread } from "./kit/Text.tsx";
import { isClaim, type PracticeLayout, practiceLayout } from "./practiceLayout.ts";
import { textWidth } from "./text/measure.ts";
import { px, whole } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

type PracticeChartProps = ChartProps<BuildPracticeResult> & { readonly from?: number; readonly to?: number };

/** How many times as long lives last, practice by practice: adjusted with bounds, and above it as recorded. */
export function PracticeChart(props: PracticeChartProps) {
  const { result, theme, width, finding, id = "practice", interactive = true } = props;
  const layout = practiceLayout(result, props);
  const { plot, x } = layout;
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? describe(result)}
    >
      <BottomAxis plot={plot} ticks={layout.xTicks} title={layout.xTitle} theme={theme} grid />
      <line
        x1={px(x(1))}
        x2={px(x(1))}
        y1={px(plot.top)}
        y2={px(plot.bottom)}
        stroke={theme.muted}
        stroke-width={1.25}
      />
      <Key {...{ layout, theme, width }} />
      <g data-marks="practice">
        {layout.rows.map(({ comparison, top, y, height }) => (
          <Target
            key={keyOf(comparison)}
            label={`${sayPracticeComparison(comparison)} As recorded, ${sayMultiplier(comparison.unadjusted)}.`}
            data={{ practice: keyOf(comparison) }}
            interactive={interactive}
          >
            <HitArea x={gutter} y={top + 1} width={width - 2 * gutter} height={height - 2} />
            <Recorded multiplier={comparison.unadjusted} y={y - 8} {...{ layout, theme }} />
            <Adjusted {...{ comparison, layout, theme }} y={y} />
          </Target>
        ))}
      </g>
      <g {...unread} pointer-events="none">
        {layout.rows.map(({ comparison, top, wordsAt, words }) => (
          <g key={keyOf(comparison)}>
            <line x1={gutter} x2={px(width - gutter)} y1={px(top)} y2={px(top)} stroke={theme.rule} stroke-width={1} />
            <Text
              x={gutter}
              y={wordsAt}
              lines={words}
              weight={isClaim(comparison) ? "semibold" : "regular"}
              backed={layout.wordsAbove}
              theme={theme}
            />
          </g>
        ))}
      </g>
    </Frame>
  );
}

/** A comparison by name, as the marks carry it. */
export const keyOf = ({ practice, level, item, mode }: PracticeComparison): string =>
  JSON.stringify({ practice, level, item, mode });

interface MarkProps {
  readonly y: number;
  readonly layout: PracticeLayout;
  readonly theme: ChartTheme;
}

function Whisker({
  multiplier: { lower, upper },
  y,
  layout: { x },
  theme,
  colour,
  thickness,
  cap,
}: MarkProps & {
  readonly multiplier: LifeMultiplier;
  readonly colour: string;
  readonly thickness: number;
  readonly cap: number;
}) {
  const [least, most] = x.domain() as [number, number];
  const openLeft = lower === null || lower < least;
  const openRight = upper === null || upper > most;
  const [from, to] = [openLeft ? x(least) : x(lower), openRight ? x(most) : x(upper)];
  // Bounds that lie wholly beyond the picture have no bar in it.
  if (!(to > from)) return null;
  const open = openLeft && openRight ? "both" : openLeft ? "from" : openRight ? "to" : null;
  const head = (at: number, towards: 1 | -1) =>
    `M${px(at - 4 * towards)} ${px(y - 4)}L${px(at)} ${px(y)}L${px(at - 4 * towards)} ${px(y + 4)}`;
  return (
    <>
      <CappedBar {...{ from, to, y, theme, colour, thickness, cap }} {...(open === null ? {} : { open })} />
      {(openLeft || openRight) && (
        <path
          d={`${openLeft ? head(from, -1) : ""}${openRight ? head(to, 1) : ""}`}
          fill="none"
          stroke={colour}
          stroke-width={thickness}
        />
      )}
    </>
  );
}

function Recorded({ multiplier, ...rest }: MarkProps & { readonly multiplier: LifeMultiplier | null }) {
  if (multiplier === null) return null;
  const { layout, theme, y } = rest;
  return (
    <>
      <Whisker multiplier={multiplier} {...rest} colour={theme.muted} thickness={1} cap={2.5} />
      {isDrawn(multiplier, layout) && (
        <rect
          x={px(layout.x(multiplier.value) - 2.5)}
          y={px(y - 2.5)}
          width={5}
          height={5}
          fill={theme.sheet}
          stroke={theme.muted}
          stroke-width={1.25}
        />
      )}
    </>
  );
}

/** What nobody can tell has no adjusted bar: a number there would be read as an answer. */
function Adjusted({ comparison, ...rest }: MarkProps & { readonly comparison: PracticeComparison }) {
  const { verdict, selected, adjusted } = comparison;
  const multiplier = selected ?? adjusted;
  if (multiplier === null || verdict === "cannot tell" || verdict === "too few failures") return null;
  const { theme, layout, y } = rest;
  const claim = isClaim(comparison);
  const colour = claim ? theme.accent : theme.ink;
  return (
    <>
      <Whisker multiplier={multiplier} {...rest} colour={colour} thickness={1.75} cap={4} />
      {isDrawn(multiplier, layout) && (
        <circle
          cx={px(layout.x(multiplier.value))}
          cy={px(y)}
          r={4.5}
          fill={claim ? colour : theme.sheet}
          stroke={colour}
          stroke-width={1.75}
        />
      )}
    </>
  );
}

function isDrawn({ value }: LifeMultiplier, { x }: PracticeLayout): boolean {
  const [least, most] = x.domain() as [number, number];
  return value >= least && value <= most;
}

const keyWords = ["goes with a difference", "no difference shown yet", "as recorded"] as const;

function Key({
  layout: { keyAt },
  theme,
  width,
}: {
  readonly layout: PracticeLayout;
  readonly theme: ChartTheme;
  readonly width: number;
}) {
  let x = gutter;
  let y = keyAt;
  return (
    <g {...unread}>
      {keyWords.map((words, index) => {
        const room = 14 + textWidth(words, textSize) + 18;
        if (x + room - 18 > width - gutter) {
          x = gutter;
          y += 16;
        }
        const at = x;
        x += room;
        return (
          <g key={words}>
            {index === 2 ? (
              <rect
                x={px(at + 2)}
                y={px(y - 6.5)}
                width={5}
                height={5}
                fill={theme.sheet}
                stroke={theme.muted}
                stroke-width={1.25}
              />
            ) : (
              <circle
                cx={px(at + 4.5)}
                cy={px(y - 4)}
                r={4}
                fill={index === 0 ? theme.accent : theme.sheet}
                stroke={index === 0 ? theme.accent : theme.ink}
                stroke-width={1.5}
              />
            )}
            <Text x={at + 14} y={y} text={words} fill={theme.muted} theme={theme} />
          </g>
        );
      })}
    </g>
  );
}

const describe = ({ comparisons, tested, claims, failures }: BuildPracticeResult): string =>
  `Multipliers of life with bounds for ${comparisons.length} comparisons of build practice, ${tested} of them tested together over ${whole(failures)} failures; ${claims} stand out. Above each adjusted multiplier stands the one as recorded.`;
