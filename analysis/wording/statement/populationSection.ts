import type { Account, Spread, StatementResult } from "../../statement/types.ts";
import { formatDate } from "../formatDate.ts";
import { formatSize } from "../formatSize.ts";
import { countOf, listOf, sentenceCase } from "../inWords.ts";
import { type Inline, type StatementBlock, type StatementCell, type StatementSection, say } from "./document.ts";
import { countCell, countFigure, hoursFigure, numberCell } from "./figures.ts";
import type { Sources } from "./sources.ts";

/** Whose tools, which dates, how many hours, under which conditions, and what is left out. */
export function populationSection({ statement, own }: Sources): StatementSection {
  const { exclusions } = statement;
  return {
    id: "population",
    title: "Who and what is counted",
    blocks: [
      { kind: "paragraph", text: sayPopulation(statement, own) },
      conditionsTable(statement, own),
      accountTable("runs", "Every run on record in this scope", exclusions.runs, own, runsNote(exclusions)),
      accountTable(
        "lives",
        "Every restoration of every failure mode in this scope, until the end of the period",
        exclusions.lives,
        own,
        `Followed: looked at, or run, so that something is known of how long it lasted. Each restoration stands in exactly one line.${wellsNote(statement)}`,
      ),
    ],
  };
}

export function sayPopulation({ population, definition }: StatementResult, own: string): Inline {
  const { tools, runs, hours, from, to, toolTypes, sizesIn, wells, customers, hoursKinds } = population;
  const whose =
    definition.scope.customer === null ? ` for ${countOf(customers, "customer")}` : ` for ${definition.scope.customer}`;
  const kinds =
    hoursKinds.length === 1
      ? `${hoursKinds[0]} hours`
      : hoursKinds.length === 0
        ? "hours of a kind not written down"
        : `hours of ${hoursKinds.length} kinds`;
  const sizes = sizesIn.length === 0 ? "" : `, ${listOf(sizesIn.map(formatSize))}`;
  return say`${countFigure(tools, "tool", own)} (${listOf(toolTypes)}${sizes}) in ${countFigure(runs, "run", own)}${whose}, ${countFigure(wells, "well", own)}, from ${formatDate(from)} to ${formatDate(to)}: ${hoursFigure(hours, own)} of operation, in ${kinds}.`;
}

/** An item runs through several wells between two redresses: its life cannot be cut to some of them. */
function wellsNote({ definition }: StatementResult): string {
  const count = definition.scope.wells?.length ?? 0;
  if (count === 0) return "";
  return ` The ${count === 1 ? "well" : "wells"} named narrow${count === 1 ? "s" : ""} runs, hours and failures only: lives are followed in whatever wells their tools ran.`;
}

function runsNote({ hoursNotWritten, reasonNotWritten }: StatementResult["exclusions"]): string {
  const parts = [
    hoursNotWritten > 0
      ? `${hoursNotWritten} of the counted runs have no hours written down and count at the shop's usual hours a day`
      : null,
    reasonNotWritten > 0 ? `${reasonNotWritten} do not say why they came in and count as not ended by the tool` : null,
  ].filter((part) => part !== null);
  return parts.length === 0
    ? "Every counted run has its hours and its reason written down."
    : `${sentenceCase(parts.join("; "))}.`;
}

function accountTable(id: string, title: string, account: Account, result: string, note: string): StatementBlock {
  return {
    kind: "table",
    id,
    title,
    columns: [
      { title: "Where it stands", kind: "text" },
      { title: "Number", kind: "number" },
    ],
    rows: [
      ...account.parts.map(({ what, count }) => [sentenceCase(what), countCell(count)]),
      ["All", countCell(account.whole)],
    ],
    note,
    result,
  };
}

function conditionsTable({ conditions, definition }: StatementResult, result: string): StatementBlock {
  const oilfield = definition.units === "oilfield";
  const row = (
    name: string,
    unit: string,
    spread: Spread,
    convert: (value: number) => number,
  ): readonly StatementCell[] => [
    `${name}, ${unit}`,
    countCell(spread.known),
    ...[spread.low, spread.median, spread.high].map((value) => numberCell(value === null ? null : convert(value))),
  ];
  const same = (value: number): number => value;
  return {
    kind: "table",
    id: "conditions",
    title: "What the counted runs went through",
    columns: [
      { title: "Condition", kind: "text" },
      { title: "Runs that say", kind: "number" },
      { title: "One in ten below", kind: "number" },
      { title: "Half below", kind: "number" },
      { title: "One in ten above", kind: "number" },
    ],
    rows: [
      row("Hours of a run", "h", conditions.runHours, same),
      row(
        "Highest temperature",
        oilfield ? "°F" : "°C",
        conditions.temperature_C,
        oilfield ? (value) => 1.8 * value + 32 : same,
      ),
      row("Depth", oilfield ? "ft" : "m", conditions.depth_m, oilfield ? (value) => value / 0.3048 : same),
      row(
        "Differential pressure",
        oilfield ? "psi" : "MPa",
        conditions.pressure_MPa,
        oilfield ? (value) => value * 145.0377 : same,
      ),
    ],
    note: `What is said here holds for conditions like these; a run outside them is not covered.`,
    result,
  };
}
