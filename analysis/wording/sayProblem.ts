import { tableDescriptors } from "../records/descriptor.ts";
import type { Origin, Problem, ProblemCode } from "../records/mapping.ts";
import { formatDate } from "./formatDate.ts";
import { formatExact } from "./formatNumber.ts";
import { sentenceCase } from "./inWords.ts";

/**
 * A problem of a sheet: where, what is wrong, what became of it and what to do.
 * Example  "run_log.csv, line 14, column Hours: '62,5x' is not a number. The row is set aside; repair the cell and drop
 *          the file again."
 */
export function sayProblem(problem: Problem): string {
  const what = sentenceCase(problemWords[problem.code](problem));
  const place = `${sayOrigin(problem.origin)}${problem.column === null ? "" : `, column ${problem.column}`}`;
  return `${place}: ${what}. ${outcome(problem)}`;
}

/** "run_log.csv, line 14", with the sheet where the file has several. */
export function sayOrigin({ file, sheet, line }: Origin): string {
  return `${file}${sheet === null ? "" : `, sheet ${sheet}`}, line ${formatExact(line)}`;
}

type Facts = Problem["facts"];

const written = ({ value }: Problem): string => (value === null ? "the cell" : `'${value}'`);
const fact = (facts: Facts, name: string): string => String(facts[name] ?? "not known");
const orders: Readonly<Record<string, string>> = {
  ymd: "year, month, day",
  dmy: "day, month, year",
  mdy: "month, day, year",
};

/** The title of a canonical field, as forms show it. */
function titleOf(facts: Facts): string {
  const table = Object.values(tableDescriptors).find(({ name }) => name === facts.table);
  const fields: readonly { readonly name: string; readonly title: string }[] = table?.fields ?? [];
  return fields.find(({ name }) => name === facts.field)?.title ?? fact(facts, "field");
}

function tableTitle(facts: Facts): string {
  const table = Object.values(tableDescriptors).find(({ name }) => name === facts.table);
  return (table?.title ?? fact(facts, "table")).toLowerCase();
}

const problemWords: Readonly<Record<ProblemCode, (problem: Problem) => string>> = {
  "missing-required": ({ facts }) =>
    facts.field === null || facts.field === undefined
      ? "nothing on this line could be used"
      : `${titleOf(facts)} is not written down, and without it the line cannot be placed`,
  "not-a-number": (problem) =>
    problem.facts.expected === undefined
      ? `${written(problem)} is not a number`
      : `${written(problem)} is not ${fact(problem.facts, "expected")}`,
  "not-a-date": (problem) => `${written(problem)} is not a date`,
  "ambiguous-date": (problem) => `${written(problem)} can be read with day first or month first`,
  "impossible-date": (problem) =>
    `${written(problem)} is no date of the calendar, read as ${orders[fact(problem.facts, "order")] ?? "written"}`,
  "unknown-unit": (problem) =>
    problem.facts.expected === undefined
      ? `the unit in ${written(problem)} is not known`
      : `the unit ${fact(problem.facts, "unit")} in ${written(problem)} does not turn into ${fact(problem.facts, "expected")}`,
  "word-not-known": (problem) =>
    problem.facts.meaning === undefined
      ? `${written(problem)} has no meaning in the word list yet`
      : `${written(problem)} means "${fact(problem.facts, "meaning")}" in the word list, which does not fit ${titleOf(problem.facts)}`,
  "not-yes-or-no": (problem) => `${written(problem)} is neither yes nor no`,
  "below-minimum": (problem) => `${written(problem)} is below ${fact(problem.facts, "minimum")}`,
  "pattern-did-not-match": (problem) => `${written(problem)} does not follow the pattern of the mapping`,
  "repeated-row-differs": ({ facts }) =>
    `the same row of ${tableTitle(facts)} stands on line ${fact(facts, "firstLine")} with another ${titleOf(facts)}`,
  "repeated-key": ({ facts }) =>
    `this row of ${tableTitle(facts)} is already on line ${fact(facts, "firstLine")}${facts.field === null || facts.field === undefined ? ", word for word" : `, with another ${titleOf(facts)}`}`,
  "row-too-long": (problem) =>
    `the line has ${fact(problem.facts, "cells")} cells under ${fact(problem.facts, "headers")} headers, so ${written(problem)} has no column`,
  "row-too-short": ({ facts }) =>
    `the line has ${fact(facts, "cells")} cells under ${fact(facts, "headers")} headers; those after the last are read as empty`,
  "no-such-column": ({ facts }) =>
    `the mapping asks for a column "${fact(facts, "column")}" that the sheet does not have`,
  "link-not-found": (problem) => `${written(problem)} leads to no row of ${tableTitle(problem.facts)}`,
  "date-order-assumed": ({ facts }) =>
    `every date here can be read in more than one order; ${orders[fact(facts, "order")] ?? "the order of the mapping"} is assumed, so ${facts.example === undefined ? "check one" : `the first is ${formatDate(fact(facts, "example"))}`}`,
  "cell-error": (problem) => `the formula failed, and the sheet shows ${written(problem)}`,
  "formula-without-value": () => "the formula was saved without its value",
  "tab-hidden": ({ origin }) => `the tab ${origin.sheet} is hidden in the workbook; it is read like the others`,
  "tab-empty": ({ origin }) => `nothing is written on the tab ${origin.sheet}`,
};

/** Codes whose notice says all there is to say about what became of the line. */
const advice: { readonly [C in ProblemCode]?: string } = {
  "row-too-short": "The line is kept.",
  "no-such-column": "Its field stays empty; correct the mapping if the column has another name.",
  "link-not-found": "The row is kept and used by no life until the other one is there.",
  "cell-error": "It is kept as written; repair the formula if the value matters.",
  "formula-without-value":
    "The cell counts as not written down; open the workbook in a spreadsheet program, save it and drop it again.",
  "tab-hidden": "Take the tab out of the workbook if it should not count.",
  "tab-empty": "There is nothing to store of it.",
  "date-order-assumed": "Confirm or change the order before storing.",
  "ambiguous-date": "Confirm the order of the column.",
  "word-not-known": "Add the word to the list and drop the file again.",
  "pattern-did-not-match": "Correct the cell, or the pattern in the mapping.",
};

function outcome({ severity, code, facts }: Problem): string {
  if (severity === "error") {
    const repair =
      code === "word-not-known"
        ? "add the word to the list"
        : code === "row-too-long" ||
            code === "repeated-key" ||
            code === "repeated-row-differs" ||
            code === "missing-required"
          ? "repair the line"
          : "repair the cell";
    return `The row is set aside; ${repair} and drop the file again.`;
  }
  if (code === "repeated-key" && (facts.field === null || facts.field === undefined)) return "It is taken once.";
  const said = advice[code];
  if (said === undefined) return "The rest of the row is kept and this cell counts as not written down.";
  return code === "word-not-known" || code === "pattern-did-not-match"
    ? `The rest of the row is kept and this cell counts as not written down. ${said}`
    : said;
}
