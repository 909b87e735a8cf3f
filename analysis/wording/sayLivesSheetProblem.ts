import type { LivesSheetProblem } from "../lives/livesSheetTypes.ts";
import { formatExact } from "./formatNumber.ts";
import { sentenceCase } from "./inWords.ts";
import { sayOrigin } from "./sayProblem.ts";

/**
 * A problem of a lives sheet: where, what is wrong, what to do.
 * Example  "fans.csv, line 14, column Age (h): '62x' is not a number. The line is set aside; repair it and read the
 *          sheet again."
 */
export function sayLivesSheetProblem(problem: LivesSheetProblem): string {
  const column = problem.column === null ? "" : `, column ${problem.column}`;
  return `${sayOrigin(problem.origin)}${column}: ${sentenceCase(words[problem.code](problem))}. ${whatToDo(problem)}`;
}

const cell = ({ value }: LivesSheetProblem): string => (value === null ? "the cell" : `'${value}'`);
const fact = ({ facts }: LivesSheetProblem, name: string): string => {
  const value = facts[name];
  return typeof value === "number" ? formatExact(value) : (value ?? "not known");
};

const words: Readonly<Record<LivesSheetProblem["code"], (problem: LivesSheetProblem) => string>> = {
  "no-age-column": () => "no column is headed age or hours, and none lower and upper",
  "no-ending-column": () => "no column says how each life ended",
  "column-twice": (problem) => `this says the same as ${fact(problem, "first")} and is kept as a covariate`,
  "units-differ": (problem) => `the ages are headed in different units (${fact(problem, "units")})`,
  missing: () => "this is needed and not written down",
  "not-a-number": (problem) =>
    `${cell(problem)} is not a number${problem.facts.unit == null ? "" : ` of ${fact(problem, "unit")}`}`,
  "below-zero": (problem) => `${cell(problem)} is below zero`,
  "count-not-above-zero": () => "a line must stand for more than zero lives",
  "ending-not-known": (problem) => `${cell(problem)} does not say how the life ended`,
  "lower-above-upper": (problem) =>
    `the lower age ${fact(problem, "lower")} is above the upper age ${fact(problem, "upper")}`,
  "nothing-between": (problem) => `there is no time between ${fact(problem, "lower")} and ${fact(problem, "upper")}`,
  "entry-beyond-end": (problem) =>
    `observation begins at ${cell(problem)}, after the life ended at ${fact(problem, "end")}`,
  "contradicts-ending": (problem) => `${cell(problem)} does not go with '${fact(problem, "ending")}'`,
  "too-many-cells": (problem) => `the line has more cells than there are headers (${fact(problem, "headers")})`,
};

function whatToDo({ code }: LivesSheetProblem): string {
  switch (code) {
    case "no-age-column":
    case "no-ending-column":
      return "No life could be read; name the column and read the sheet again.";
    case "column-twice":
      return "Rename or remove one of the two.";
    case "units-differ":
      return "No life could be read; write all ages in one unit and read the sheet again.";
    case "ending-not-known":
      return "The line is set aside; write failed at, failed before, failed between or still good at.";
    default:
      return "The line is set aside; repair it and read the sheet again.";
  }
}
