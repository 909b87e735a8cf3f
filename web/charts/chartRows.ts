/** What each chart draws, as a table to copy and export. Numbers are the result's own, not rounded for the picture. */
import type { ItemLifeResult, ToolHistoryResult, WhatFailsResult } from "../../analysis/index.ts";
import type { Cell, ChartTable } from "./chartTable.ts";
import type { ModeName } from "./ratesOverTimeLayout.ts";
import { highAge, lowAge } from "./text/numbers.ts";

export function survivalRows({
  survival,
  nonparametric,
  readings,
  histories,
  linked,
  mode,
}: ItemLifeResult): ChartTable {
  const delays =
    linked?.delay && linked.defect === mode
      ? ([
          ["tenth", 0.9],
          ["median", 0.5],
        ] as const)
      : [];
  const delayed = delays.map(([name, share]): Cell[] => {
    const delay = linked?.delay?.[name];
    const value = delay?.value ?? null;
    return [
      `hours from ${mode} to ${linked?.failure}`,
      value,
      value,
      share,
      delay?.lower ?? null,
      delay?.upper ?? null,
      null,
    ];
  });
  const fitted = (survival?.age ?? []).map((age, index): Cell[] => {
    const cell = (line: "value" | "lower" | "upper"): Cell => survival?.[line][index] ?? null;
    return ["fitted", age, age, cell("value"), cell("lower"), cell("upper"), null];
  });
  const observed = nonparametric.steps.map((step): Cell[] => [
    nonparametric.method,
    step.from,
    step.to,
    step.survival,
    step.lower,
    step.upper,
    null,
  ]);
  const aged = (["b10", "median"] as const).map((name): Cell[] => {
    const { value, lower, upper } = readings[name];
    return [
      name === "b10" ? "one in ten failed by" : "half failed by",
      value,
      value,
      name === "b10" ? 0.9 : 0.5,
      lower,
      upper,
      null,
    ];
  });
  const { statedAge, reliability } = readings;
  const survivors = histories
    .filter((life) => life.kind === "right")
    .map((life): Cell[] => [
      "still good when last seen",
      lowAge(life.lower),
      highAge(life.lower),
      null,
      null,
      null,
      life.lifeId,
    ]);
  return {
    columns: ["what", "from_h", "to_h", "share_still_good", "lower", "upper", "life"],
    rows: [
      ...fitted,
      ...observed,
      ...aged,
      [
        "share still good at stated age",
        statedAge,
        statedAge,
        reliability.value,
        reliability.lower,
        reliability.upper,
        null,
      ],
      ...delayed,
      ...survivors,
    ],
  };
}

export const probabilityRows = ({ plotPoints }: ItemLifeResult): ChartTable => ({
  columns: ["failed_after_h", "failed_by_h", "failed_fraction", "lives"],
  rows: plotPoints.map((point) => [point.low, point.high, point.failedFraction, point.lifeIds.join("; ")]),
});

export const historiesRows = ({ histories }: ItemLifeResult): ChartTable => ({
  columns: [
    "life",
    "serial",
    "since",
    "since_on",
    "kind",
    "lower_low_h",
    "lower_high_h",
    "upper_low_h",
    "upper_high_h",
    "entry_h",
    "runs",
    "looks",
    "led_to",
    "led_to_after_h",
    "led_to_by_h",
  ],
  rows: histories.map((life) => [
    life.lifeId,
    life.serial,
    life.since,
    life.sinceOn,
    life.kind,
    lowAge(life.lower),
    highAge(life.lower),
    life.upper === null ? null : lowAge(life.upper),
    life.upper === null ? null : highAge(life.upper),
    life.entry,
    life.runs.length,
    life.looks.length,
    life.ledTo?.mode ?? null,
    life.ledTo === undefined ? null : lowAge(life.ledTo.lower),
    life.ledTo?.upper == null ? null : highAge(life.ledTo.upper),
  ]),
});

export const rateRows = ({ modes }: WhatFailsResult): ChartTable => ({
  columns: [
    "tool_type",
    "item",
    "mode",
    "announces",
    "failures",
    "hours",
    "rate_per_1000_h",
    "lower",
    "upper",
    "confidence",
    "few_failures",
  ],
  rows: modes.map(({ toolType, item, mode, announces, failures, hours, rate, few }) => [
    toolType,
    item,
    mode,
    announces,
    failures,
    hours,
    rate.value,
    rate.lower,
    rate.upper,
    rate.confidence,
    few ? "yes" : "no",
  ]),
});

/** The chosen modes, or all together where none is chosen. */
export function ratesOverTimeRows({ periods }: WhatFailsResult, modes: readonly ModeName[] = []): ChartTable {
  const chosen = (cell: ModeName): boolean => modes.some((one) => one.item === cell.item && one.mode === cell.mode);
  return {
    columns: ["from", "to", "item", "mode", "failures", "hours", "rate_per_1000_h", "lower", "upper"],
    rows: periods.flatMap((period) => {
      const cells = modes.length === 0 ? [{ ...period, item: "all", mode: "all" }] : period.byMode.filter(chosen);
      return cells.map((cell): Cell[] => [
        period.from,
        period.to,
        cell.item,
        cell.mode,
        cell.failures,
        cell.hours,
        cell.rate.value,
        cell.rate.lower,
        cell.rate.upper,
      ]);
    }),
  };
}

export const drawingRows = ({ drawing }: WhatFailsResult): ChartTable => ({
  columns: ["tool_type", "item", "kind", "position", "failures", "shrunken_rate_per_1000_h", "few_failures"],
  rows: drawing.flatMap(({ toolType, items }) =>
    items.map(({ item, kind, position, failures, shrunkenRate, few }): Cell[] => [
      toolType,
      item,
      kind,
      position,
      failures,
      shrunkenRate,
      few ? "yes" : "no",
    ]),
  ),
});

export const toolHistoryRows = ({ events }: ToolHistoryResult): ChartTable => ({
  columns: ["on", "event", "key", "tool_hours_low", "tool_hours_high", "hours", "what"],
  rows: events.map(({ on, row, toolHours, event }): Cell[] => [
    on,
    event.kind,
    row.key,
    lowAge(toolHours),
    highAge(toolHours),
    event.kind === "run" ? (event.run.hours ?? null) : null,
    event.kind === "run"
      ? event.run.pulled_because
      : event.kind === "redress"
        ? event.fitted
            .filter((fitted) => fitted.renewed)
            .map((fitted) => fitted.item)
            .join("; ")
        : event.findings
            .filter((finding) => finding.condition !== "sound")
            .map((finding) => `${finding.item}: ${finding.condition}`)
            .join("; "),
  ]),
});
