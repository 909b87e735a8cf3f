/** Results as tables: the numbers of a result in rows and columns, units in the headers, nothing computed. */
import type {
  Age,
  BuildPracticeResult,
  Estimate,
  ItemLifeResult,
  Life,
  ToolHistoryResult,
  WhatFailsResult,
} from "../../analysis/index.ts";
import type { CsvTable } from "./sendCsv.ts";

export function itemLifeTable(result: ItemLifeResult, table: "curve" | "steps" | "numbers"): CsvTable {
  if (table === "steps") {
    return {
      headers: ["from h", "to h", "surviving", "lower", "upper", "at risk", "failures", "band lower", "band upper"],
      rows: result.nonparametric.steps.map((step, index) => [
        step.from,
        step.to,
        step.survival,
        step.lower,
        step.upper,
        step.atRisk,
        step.failures,
        result.nonparametric.band?.lower[index] ?? null,
        result.nonparametric.band?.upper[index] ?? null,
      ]),
    };
  }
  if (table === "numbers") return numbersTable(result);
  const { age, value, lower, upper } = result.survival ?? { age: [], value: [], lower: [], upper: [] };
  return {
    headers: ["age h", "surviving", "lower", "upper"],
    rows: age.map((hours, index) => [hours, value[index], lower[index], upper[index]]),
  };
}

function numbersTable({ fit, readings, item, mode, counts }: ItemLifeResult): CsvTable {
  const named: readonly (readonly [string, Estimate])[] = [
    ...(fit === null
      ? []
      : ([
          ["shape", fit.shape],
          ["scale", fit.scale],
          ...(fit.third === undefined ? [] : [["third parameter", fit.third] as const]),
        ] as const)),
    ["one in ten has failed by", readings.b10],
    ["median", readings.median],
    ["mean", readings.mean],
    [`reliability at ${readings.statedAge} h`, readings.reliability],
  ];
  return {
    headers: [
      "item",
      "mode",
      "number",
      "value",
      "lower",
      "upper",
      "confidence",
      "unit",
      "method",
      "why not",
      "failures",
      "lives",
    ],
    rows: named.map(([name, { value, lower, upper, confidence, unit, method, why }]) => [
      item,
      mode,
      name,
      value,
      lower,
      upper,
      confidence,
      unit,
      method,
      why,
      counts.failures,
      counts.lives,
    ]),
  };
}

export function whatFailsTable(result: WhatFailsResult): CsvTable {
  return {
    headers: [
      "tool type",
      "item",
      "kind",
      "mode",
      "announces itself",
      "failures",
      "hours observed",
      "looks",
      "failures per 1,000 h",
      "lower",
      "upper",
      "confidence",
      "method",
      "fewer than 5 failures",
      "runs brought back",
    ],
    rows: result.modes.map((row) => [
      row.toolType,
      row.item,
      row.itemKind,
      row.mode,
      row.announces,
      row.failures,
      row.hours,
      row.looks,
      row.rate.value,
      row.rate.lower,
      row.rate.upper,
      row.rate.confidence,
      row.rate.method,
      row.few,
      row.broughtBack,
    ]),
  };
}

export function toolHistoryTable({ tool, events }: ToolHistoryResult): CsvTable {
  return {
    headers: [
      "serial",
      "on",
      "what",
      "record",
      "tool hours",
      "tool hours at most",
      "why",
      "item",
      "condition",
      "severity",
    ],
    rows: events.flatMap(({ on, event, row, toolHours }) => {
      const start = [tool.serial, on, event.kind, row.key, ...bothEnds(toolHours)] as const;
      if (event.kind === "redress") return [[...start, event.redress.reason, null, null, null]];
      if (event.kind === "run")
        return [[...start, event.run.pulled_because, event.run.item_seen, event.run.mode_seen, null]];
      const looked = [...start, event.teardown.why] as const;
      if (event.findings.length === 0) return [[...looked, null, null, null]];
      return event.findings.map(({ item, condition, severity }) => [...looked, item, condition, severity]);
    }),
  };
}

export function livesTable(lives: readonly Life[]): CsvTable {
  return {
    headers: [
      "life",
      "tool type",
      "size in",
      "serial",
      "item",
      "item serial",
      "mode",
      "since",
      "since on",
      "known as",
      "lower h",
      "lower at most h",
      "upper h",
      "upper at most h",
      "entry h",
      "age is a range because",
      "closed by",
      "ended on",
      "look followed a failure",
    ],
    rows: lives.map((life) => [
      life.id,
      life.toolType,
      life.sizeIn,
      life.serial,
      life.item,
      life.itemSerial,
      life.mode,
      life.since,
      life.sinceOn,
      life.kind,
      ...bothEnds(life.lower),
      ...(life.upper === null ? [null, null] : bothEnds(life.upper)),
      life.entry,
      life.rangeBecause,
      life.closedBy,
      life.endedOn,
      life.informative,
    ]),
  };
}

const bothEnds = (age: Age): readonly [number, number] => (typeof age === "number" ? [age, age] : age);

export function practiceTable({ comparisons }: BuildPracticeResult): CsvTable {
  const multipliers = ["unadjusted", "adjusted", "selected"] as const;
  return {
    headers: [
      "practice",
      "name",
      "at",
      "against",
      "unit",
      "item",
      "mode",
      "verdict",
      "lives",
      "failures",
      "serials",
      ...multipliers.flatMap((name) => [
        `${name} multiplier of life`,
        `${name} lower`,
        `${name} upper`,
        `${name} confidence`,
      ]),
      "p adjusted",
      "p over all comparisons",
      "share of its spread left by the rest",
      "goes along with",
      "lives not written",
      "lives written as text",
      "lives in doubt",
    ],
    rows: comparisons.map((one) => [
      one.practice,
      one.level,
      one.at,
      one.against,
      one.unit,
      one.item,
      one.mode,
      one.verdict,
      one.lives,
      one.failures,
      one.serials,
      ...multipliers.flatMap((name) => {
        const multiplier = one[name];
        return [multiplier?.value, multiplier?.lower, multiplier?.upper, multiplier?.confidence];
      }),
      one.adjusted?.pValue,
      one.screenedPValue,
      one.shareLeft,
      one.goesAlongWith[0]?.what,
      one.notWritten.lives,
      one.writtenAsText.lives,
      one.inDoubt.lives,
    ]),
  };
}
