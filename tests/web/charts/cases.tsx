/** Every chart on invented results, with a finding as long as real ones: for stored figures, fit tests and a look by eye. */
import type { VNode } from "preact";
import type { ItemLifeResult } from "../../../analysis/index.ts";
import { comparisonOf, sayPracticeFinding } from "../../../analysis/index.ts";
import { HistoriesChart } from "../../../web/charts/HistoriesChart.tsx";
import { LifeAgainstChart } from "../../../web/charts/LifeAgainstChart.tsx";
import { PracticeChart } from "../../../web/charts/PracticeChart.tsx";
import { PracticeSurvivalChart } from "../../../web/charts/PracticeSurvivalChart.tsx";
import { ProbabilityPlot } from "../../../web/charts/ProbabilityPlot.tsx";
import { RateChart } from "../../../web/charts/RateChart.tsx";
import { RatesOverTime } from "../../../web/charts/RatesOverTime.tsx";
import { SurvivalChart } from "../../../web/charts/SurvivalChart.tsx";
import { ToolDrawing } from "../../../web/charts/ToolDrawing.tsx";
import { ToolHistoryChart } from "../../../web/charts/ToolHistoryChart.tsx";
import type { ChartTheme } from "../../../web/charts/theme.ts";
import {
  buildPracticeFixture,
  itemLifeFixture,
  toolHistoryFixture,
  whatFailsFixture,
} from "../../support/chartFixtures.ts";

export interface Case {
  readonly name: string;
  readonly draw: (theme: ChartTheme, width: number) => VNode;
}

const itemLives = {
  hidden: itemLifeFixture(),
  evident: itemLifeFixture({ evident: true }),
  few: itemLifeFixture({ lives: 12 }),
  none: itemLifeFixture({ scale: 1e6 }),
  many: itemLifeFixture({ lives: 800 }),
};

// A mode fitted jointly with the one it leads to: no observed steps, and half fail beyond experience.
const delayed = { confidence: 0.9, method: "likelihood ratio", unit: "h" } as const;
const linked: ItemLifeResult = {
  ...itemLives.hidden,
  nonparametric: { method: "none", boundsMethod: null, steps: [] },
  plotPoints: [],
  histories: itemLives.hidden.histories.map((life, index) =>
    life.upper === null || index % 2 === 0
      ? life
      : {
          ...life,
          ledTo: { mode: "leak", kind: index % 3 === 0 ? "interval" : "exact", lower: life.lower, upper: life.upper },
        },
  ),
  longestAge: 380,
  linked: {
    defect: "extrusion",
    failure: "leak",
    histories: 130,
    defects: 24,
    failures: 11,
    withoutDefect: 0,
    delay: {
      shape: { ...delayed, value: 1.15, lower: 0.4, upper: 2.6, unit: "none" },
      scale: { ...delayed, value: 98.5, lower: 59.4, upper: 154 },
      tenth: { ...delayed, value: 14, lower: 0.02, upper: 49.3 },
      median: { ...delayed, value: 71.7, lower: 5.2, upper: 118 },
    },
  },
};
// Nothing failed: only a bound of the share still good is known.
const bound: ItemLifeResult = {
  ...itemLives.none,
  readings: {
    ...itemLives.none.readings,
    statedAge: 220,
    reliability: {
      value: null,
      lower: 0.7,
      upper: null,
      confidence: 0.9,
      method: "success run",
      unit: "fraction",
      why: "no failures",
    },
  },
};

const finding =
  "One in ten main seals has extruded by 185 h (149–229, 90 %): 24 failures among 120 seal sets followed.";

const fails = { fleet: whatFailsFixture(), small: whatFailsFixture({ size: 0.08 }) };
const failing = "Main seals fail most: 1.17 extrusions per 1,000 h looked at (0.94–1.45, 90 %), 61 failures.";
const chosen = [
  { item: "main seal", mode: "extrusion" },
  { item: "J2", mode: "back-off" },
  { item: "J3", mode: "back-off" },
  { item: "guide band", mode: "wear" },
];

const itemLifeCases = Object.entries({ ...itemLives, linked, bound }).flatMap(([name, result]): Case[] => [
  { name: `survival-${name}`, draw: (theme, width) => <SurvivalChart {...{ result, theme, width, finding }} /> },
  { name: `probability-${name}`, draw: (theme, width) => <ProbabilityPlot {...{ result, theme, width, finding }} /> },
  { name: `histories-${name}`, draw: (theme, width) => <HistoriesChart {...{ result, theme, width, finding }} /> },
]);

const whatFailsCases = Object.entries(fails).flatMap(([name, result]): Case[] => [
  { name: `drawing-${name}`, draw: (theme, width) => <ToolDrawing {...{ result, theme, width }} finding={failing} /> },
  { name: `rates-${name}`, draw: (theme, width) => <RateChart {...{ result, theme, width }} finding={failing} /> },
  {
    name: `over-time-${name}`,
    draw: (theme, width) => <RatesOverTime {...{ result, theme, width }} finding={failing} />,
  },
  {
    name: `over-time-chosen-${name}`,
    draw: (theme, width) => <RatesOverTime {...{ result, theme, width }} modes={chosen} finding={failing} />,
  },
]);

const history = toolHistoryFixture();
const told =
  "AD650-017 has run 2,370 h in 41 runs since March 2023 and failed 14 times; its main seals are 59.5 h old now.";

const practiceCases = Object.entries({
  shop: buildPracticeFixture(),
  few: buildPracticeFixture({ few: true }),
}).flatMap(([name, result]): Case[] => {
  const { detail } = result;
  const comparison = detail ? comparisonOf(result, detail) : undefined;
  if (!detail || !comparison) throw new Error("a fixture looks at one comparison closely");
  const of = { result: detail, comparison };
  return [
    {
      name: `practice-${name}`,
      draw: (theme, width) => (
        <PracticeChart {...{ result, theme, width }} finding={sayPracticeFinding(result, "ranked")} />
      ),
    },
    {
      name: `life-against-${name}`,
      draw: (theme, width) => (
        <LifeAgainstChart {...of} {...{ theme, width }} finding={sayPracticeFinding(result, "curve")} />
      ),
    },
    {
      name: `practice-survival-${name}`,
      draw: (theme, width) => (
        <PracticeSurvivalChart {...of} {...{ theme, width }} finding={sayPracticeFinding(result, "groups")} />
      ),
    },
  ];
});

export const cases: readonly Case[] = [
  ...practiceCases,
  ...itemLifeCases,
  ...whatFailsCases,
  {
    name: "tool-history",
    draw: (theme, width) => <ToolHistoryChart {...{ theme, width }} result={history} finding={told} />,
  },
];
