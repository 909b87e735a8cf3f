/** Every chart on invented results, with a finding as long as real ones: for stored figures, fit tests and a look by eye. */
import type { VNode } from "preact";
import { SurvivalChart } from "../../../web/charts/SurvivalChart.tsx";
import type { ChartTheme } from "../../../web/charts/theme.ts";
import { itemLifeFixture } from "../../support/chartFixtures.ts";

export interface Case {
  readonly name: string;
  readonly draw: (theme: ChartTheme, width: number) => VNode;
}

const hidden = itemLifeFixture();
const evident = itemLifeFixture({ evident: true });
const few = itemLifeFixture({ lives: 12 });
const none = itemLifeFixture({ scale: 1e6 });
const many = itemLifeFixture({ lives: 800 });

const lives = "One in ten main seals has extruded by 185 h (149-229, 90 %): 24 failures among 120 seal sets followed.";

export const cases: readonly Case[] = [
  ...(
    [
      ["hidden", hidden],
      ["evident", evident],
      ["few", few],
      ["none", none],
      ["many", many],
    ] as const
  ).map(([name, result]) => ({
    name: `survival-${name}`,
    draw: (theme: ChartTheme, width: number) => <SurvivalChart {...{ result, theme, width }} finding={lives} />,
  })),
];
