import type { LifeHistory } from "../../analysis/index.ts";
import { CensoredMark, HitArea, mostStops, Target } from "./kit/marks.tsx";
import { Text, unread } from "./kit/Text.tsx";
import type { SurvivalLayout } from "./survivalLayout.ts";
import { binLabel } from "./survivors.ts";
import { ageText, lowAge, px } from "./text/numbers.ts";
import type { ChartTheme } from "./theme.ts";

interface SurvivorStripProps {
  readonly layout: SurvivalLayout;
  readonly theme: ChartTheme;
  readonly interactive: boolean;
}

/** Survivors above the plot: an open disc each, or, where those would run together, ticks as tall as their count. */
export function SurvivorStrip({ layout, theme, interactive }: SurvivorStripProps) {
  const { plot, x, survivors, survivorsAt, survivorsTitle } = layout;
  const { single, bins } = survivors;
  const foot = survivorsAt + 5;
  return (
    <>
      {survivorsTitle !== "" && (
        <g {...unread}>
          <Text
            x={plot.right}
            y={layout.titlesAt}
            anchor="end"
            text={survivorsTitle}
            fill={theme.muted}
            theme={theme}
          />
        </g>
      )}
      <g data-marks="survivors">
        {single.map((life, index) => (
          <Target
            key={life.lifeId}
            label={survivorLabel(life)}
            data={{ life: life.lifeId }}
            interactive={interactive}
            stop={single.length <= mostStops || index === 0}
          >
            <CensoredMark x={x(lowAge(life.lower))} y={survivorsAt} radius={2.75} theme={theme} />
            <HitArea x={x(lowAge(life.lower)) - 4} y={survivorsAt - 8} width={12} height={16} />
          </Target>
        ))}
        {bins.map((bin, index) => (
          <Target
            key={bin.x}
            label={binLabel(bin)}
            data={{ lives: JSON.stringify(bin.lives.map((life) => life.lifeId)) }}
            interactive={interactive}
            stop={bins.length <= mostStops || index === 0}
          >
            <line
              x1={px(bin.x)}
              x2={px(bin.x)}
              y1={px(foot)}
              y2={px(foot - 3 - 15 * bin.height)}
              stroke={theme.ink}
              stroke-width={2}
            />
            <HitArea x={bin.x - 2.5} y={foot - 20} width={5} height={22} />
          </Target>
        ))}
      </g>
    </>
  );
}

const survivorLabel = (life: LifeHistory): string =>
  `${life.serial}, restored ${life.sinceOn}: still good at ${ageText(life.lower)}`;
