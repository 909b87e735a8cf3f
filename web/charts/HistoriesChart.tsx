import type { ItemLifeResult, LifeHistory, LookMark } from "../../analysis/index.ts";
import { type HistoriesLayout, historiesLayout, type KeyEntry, lastKnown, type Page } from "./historiesLayout.ts";
import { BottomAxis } from "./kit/axes.tsx";
import { type ChartProps, Frame } from "./kit/Frame.tsx";
import { CappedBar, CensoredMark, ExactMark, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import { ageText, highAge, lowAge, px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

/**
 * The lives themselves, one row each from restoration to the end of what is known: runs as alternating tones, looks as
 * ticks, and how it ended. Draws one page of the sorted list.
 */
export function HistoriesChart(props: ChartProps<ItemLifeResult> & Page) {
  const { result, theme, width, finding, id = "histories", interactive = true } = props;
  const layout = historiesLayout(result, props);
  const { plot, rows, rowHeight, rowAt } = layout;
  const total = result.histories.length;
  const part = rows.length < total ? `Lives ${layout.from + 1}-${layout.to} of ${total}. ` : "";
  return (
    <Frame
      {...{ id, width, theme, finding }}
      height={layout.height}
      description={props.description ?? part + describe(result)}
    >
      <g {...unread}>
        {layout.key.map((entry) => (
          <KeyItem key={entry.mark} entry={entry} theme={theme} />
        ))}
      </g>
      <BottomAxis plot={plot} ticks={layout.xTicks} title={part + layout.xTitle} theme={theme} grid />
      <g data-marks="lives">
        {rows.map((life, index) => (
          <Target
            key={life.lifeId}
            label={lifeLabel(life)}
            data={{ life: life.lifeId }}
            interactive={interactive}
            stop={rows.length <= mostStops || index === 0}
          >
            <HitArea x={0} y={rowAt(index) - rowHeight / 2} width={width} height={rowHeight} />
            {layout.serials && (
              <Text
                x={plot.left - 10}
                y={rowAt(index) + 4}
                text={life.serial}
                anchor="end"
                fill={theme.muted}
                theme={theme}
              />
            )}
            <Row life={life} y={rowAt(index)} layout={layout} theme={theme} />
          </Target>
        ))}
      </g>
    </Frame>
  );
}

interface RowProps {
  readonly life: LifeHistory;
  readonly y: number;
  readonly layout: HistoriesLayout;
  readonly theme: ChartTheme;
}

function Row({ life, y, layout: { x, rowHeight }, theme }: RowProps) {
  const thick = Math.max(1.5, Math.min(6, rowHeight * 0.34));
  const radius = Math.max(1.4, Math.min(4, rowHeight * 0.26));
  const cap = Math.max(1.6, Math.min(5, rowHeight * 0.32));
  const at = (age: number): number => x(Math.max(0, age));
  const known = highAge(life.lower);
  return (
    <>
      {life.runs.map((run, index) => {
        const [from, to] = [at(Math.max(life.entry, highAge(run.from))), at(highAge(run.to))];
        if (to <= from) return null;
        return (
          <rect
            key={run.row.key}
            x={px(from)}
            y={px(y - thick / 2)}
            width={px(to - from)}
            height={px(thick)}
            fill={theme.runs[index % 2 === 0 ? 0 : 1]}
          />
        );
      })}
      {life.runs.length === 0 && (
        <line
          x1={px(at(life.entry))}
          x2={px(at(lastKnown(life)))}
          y1={px(y)}
          y2={px(y)}
          stroke={theme.runs[1]}
          stroke-width={px(thick)}
        />
      )}
      {life.entry > 0 && (
        <path
          d={`M${px(at(life.entry) + cap * 0.8)} ${px(y - cap)}H${px(at(life.entry))}V${px(y + cap)}H${px(at(life.entry) + cap * 0.8)}`}
          fill="none"
          stroke={theme.ink}
          stroke-width={rowHeight < 8 ? 0.9 : 1.4}
        />
      )}
      {life.looks.map((look) => (
        <Look
          key={look.row.key}
          look={look}
          x={at(highAge(look.age))}
          y={y}
          reach={cap}
          thin={rowHeight < 8}
          theme={theme}
        />
      ))}
      {[life.lower, life.upper].map((age, index) =>
        age !== null && typeof age !== "number" ? (
          <line
            key={index === 0 ? "lower" : "upper"}
            x1={px(at(lowAge(age)))}
            x2={px(at(highAge(age)))}
            y1={px(y + cap + 0.5)}
            y2={px(y + cap + 0.5)}
            stroke={theme.muted}
            stroke-width={1}
            stroke-dasharray="1.5 1.5"
          />
        ) : null,
      )}
      {life.ledTo !== undefined && <LedTo ledTo={life.ledTo} {...{ at, y, radius, cap, theme }} thin={rowHeight < 8} />}
      {life.kind === "exact" && <ExactMark x={at(known)} y={y} radius={radius} theme={theme} />}
      {life.kind === "right" && <CensoredMark x={at(lowAge(life.lower))} y={y} radius={radius * 0.9} theme={theme} />}
      {(life.kind === "interval" || life.kind === "left") && (
        <CappedBar
          from={at(lowAge(life.lower))}
          to={at(highAge(life.upper ?? life.lower))}
          y={y}
          cap={cap}
          thickness={rowHeight < 8 ? 1.2 : 2}
          theme={theme}
        />
      )}
    </>
  );
}

interface LedToProps {
  readonly ledTo: NonNullable<LifeHistory["ledTo"]>;
  readonly at: (age: number) => number;
  readonly y: number;
  readonly radius: number;
  readonly cap: number;
  readonly thin: boolean;
  readonly theme: ChartTheme;
}

/** The failure that the defect of this row led to, in ink, so that it stands apart from the defect: the same two marks. */
function LedTo({ ledTo: { kind, lower, upper }, at, y, radius, cap, thin, theme }: LedToProps) {
  const last = at(highAge(upper ?? lower));
  if (kind === "exact") return <ExactMark x={last} y={y} radius={radius} colour={theme.ink} theme={theme} />;
  return (
    <CappedBar
      from={at(lowAge(lower))}
      to={last}
      y={y - (thin ? 1 : 3)}
      cap={cap * 0.6}
      thickness={thin ? 1 : 1.25}
      colour={theme.ink}
      theme={theme}
    />
  );
}

interface LookProps {
  readonly look: LookMark;
  readonly x: number;
  readonly y: number;
  readonly reach: number;
  readonly thin: boolean;
  readonly theme: ChartTheme;
}

/** A look: an upright tick where sound (short where only the checklist says so), a cross where another mode spoilt it. */
function Look({ look, x, y, reach, thin, theme }: LookProps) {
  if (look.found === "failed") return null;
  const half = look.found === "sound by scope" ? reach * 0.6 : reach;
  const path =
    look.found === "spoilt"
      ? `M${px(x - half * 0.8)} ${px(y - half * 0.8)}L${px(x + half * 0.8)} ${px(y + half * 0.8)}M${px(x - half * 0.8)} ${px(y + half * 0.8)}L${px(x + half * 0.8)} ${px(y - half * 0.8)}`
      : `M${px(x)} ${px(y - half)}V${px(y + half)}`;
  return <path d={path} fill="none" stroke={theme.ink} stroke-width={thin ? 0.8 : 1.2} />;
}

function KeyItem({ entry: { mark, text, x, y }, theme }: { readonly entry: KeyEntry; readonly theme: ChartTheme }) {
  const middle = y - 4;
  return (
    <>
      {mark === "exact" && <ExactMark x={x + 12} y={middle} theme={theme} />}
      {mark === "interval" && <CappedBar from={x + 4} to={x + 22} y={middle} theme={theme} />}
      {mark === "left" && (
        <>
          <line
            x1={px(x + 1)}
            x2={px(x + 1)}
            y1={px(middle - 6)}
            y2={px(middle + 6)}
            stroke={theme.muted}
            stroke-width={1}
          />
          <CappedBar from={x + 1} to={x + 22} y={middle} theme={theme} />
        </>
      )}
      {mark === "led to" && <ExactMark x={x + 12} y={middle} colour={theme.ink} theme={theme} />}
      {mark === "led to between" && (
        <CappedBar from={x + 4} to={x + 22} y={middle} colour={theme.ink} cap={3} thickness={1.25} theme={theme} />
      )}
      {mark === "right" && <CensoredMark x={x + 8} y={middle} theme={theme} />}
      {mark === "look" && <path d={`M${px(x + 12)} ${px(middle - 5)}v10`} stroke={theme.ink} stroke-width={1.2} />}
      {mark === "spoilt" && (
        <path d={`M${px(x + 8)} ${px(middle - 4)}l8 8m-8 0l8 -8`} stroke={theme.ink} stroke-width={1.2} />
      )}
      {mark === "entry" && (
        <path d={`M${px(x + 14)} ${px(middle - 5)}h-4v10h4`} fill="none" stroke={theme.ink} stroke-width={1.4} />
      )}
      {mark === "range" && (
        <path
          d={`M${px(x + 3)} ${px(middle + 1)}h19`}
          stroke={theme.muted}
          stroke-width={1}
          stroke-dasharray="1.5 1.5"
        />
      )}
      <Text x={x + 30} y={y} text={text} fill={theme.muted} theme={theme} />
    </>
  );
}

/** What a row says in words. */
export function lifeLabel(life: LifeHistory): string {
  const ended =
    life.kind === "exact"
      ? `failed at ${ageText(life.lower)}`
      : life.kind === "left"
        ? `found failed at the first inspection, at ${ageText(life.upper ?? life.lower)}`
        : life.kind === "interval"
          ? `sound at ${ageText(life.lower)}, failed by ${ageText(life.upper ?? life.lower)}`
          : `still good at ${ageText(life.lower)}`;
  const entry = life.entry > 0 ? `, followed from ${ageText(life.entry)} on` : "";
  const looks =
    life.looks.length === 0
      ? "no inspections"
      : life.looks.length === 1
        ? "1 inspection"
        : `${life.looks.length} inspections`;
  const led =
    life.ledTo === undefined
      ? ""
      : `, then ${life.ledTo.mode} ${life.ledTo.kind === "exact" ? "at" : "by"} ${ageText(life.ledTo.upper ?? life.ledTo.lower)}`;
  return `${life.serial}, restored ${life.sinceOn}: ${ended}${led}${entry}; ${life.runs.length} runs, ${looks}`;
}

const describe = ({ item, mode, counts }: ItemLifeResult): string =>
  `Each life of ${item} for ${mode} as a row from restoration to the end of what is known, shortest first: ` +
  `${counts.exact} failed at a known hour, ${counts.interval} between two inspections, ${counts.left} found failed at the first inspection, ${counts.right} still good when last seen.`;
