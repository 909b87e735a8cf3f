import type { AnalysisErrorCode } from "../errors.ts";
import { formatExact } from "./formatNumber.ts";

type Facts = Readonly<Record<string, string | number | null>>;

/**
 * What the engine refuses, in words: what is wrong, where, what to do.
 *
 * @param error  An `AnalysisError`, or its code with its facts.
 */
export function sayError({ code, facts }: { readonly code: AnalysisErrorCode; readonly facts: Facts }): string {
  return sentences[code](facts);
}

const fact = (facts: Facts, name: string): string => {
  const value = facts[name];
  return value === null || value === undefined ? "not known" : typeof value === "number" ? formatExact(value) : value;
};
const given = (facts: Facts, name: string): boolean => facts[name] !== null && facts[name] !== undefined;
const inFile = (facts: Facts): string =>
  given(facts, "file")
    ? `${fact(facts, "file")}${given(facts, "tab") ? `, tab ${fact(facts, "tab")}` : ""}`
    : "The sheet";

const kinds: Readonly<Record<string, string>> = {
  exact: "failed at a known age",
  left: "was found failed at the first inspection",
  interval: "failed somewhere between two inspections",
  right: "had not failed when last seen",
  ranged: "has an age known only as a range",
  late: "was followed from mid-life only",
};

const columns: Readonly<Record<string, string>> = {
  lower: "the last age known good",
  lowerHigh: "the highest last age known good",
  upper: "the first age known failed",
  upperHigh: "the highest first age known failed",
  entry: "the age at which it is followed from",
  count: "the number of such lives",
  start: "the age at which the row begins",
  stop: "the age at which the row ends",
};
const refusals: Readonly<Record<string, string>> = {
  "not finite": "which is not a number",
  negative: "which is below 0",
  "count not above zero": "which must be above 0",
  "lower above upper": "so it would have failed before it was known good",
  "range reversed": "so the range runs backwards",
  "ranges cross": "so the range known good passes the range known failed",
  "range without upper": "though it never failed",
  "entry beyond exit": "after its life was over",
  "failed at age 0": "which no life can be; a part that fails before it runs is a build reject",
  "not whole": "which must be a whole number",
};

/** Methods that fit a law: where they cannot use a life, maximum likelihood can. */
const likelihoodInstead: ReadonlySet<string> = new Set([
  "rank regression",
  "fixed shape",
  "two patterns",
  "proportional hazards",
]);

const sentences: Readonly<Record<AnalysisErrorCode, (facts: Facts) => string>> = {
  "unsupported-censoring": (facts) =>
    `The ${fact(facts, "method")} estimate cannot use life "${fact(facts, "life")}", which ${kinds[fact(facts, "kind")] ?? fact(facts, "kind")}. ${facts.kind === "ranged" ? "Choose how missing hours are filled in." : likelihoodInstead.has(fact(facts, "method")) ? "Use the maximum likelihood fit for such lives." : "Use the Turnbull estimate for such lives."}`,
  "bad-life": (facts) =>
    `Life ${given(facts, "id") ? `"${fact(facts, "id")}"` : fact(facts, "row")} does not hold together: ${columns[fact(facts, "column")] ?? fact(facts, "column")} is ${fact(facts, "value")}, ${refusals[fact(facts, "why")] ?? fact(facts, "why")}. Correct it and bring the lives again.`,
  "no-lives": () =>
    "There is no life in this scope to estimate from. Widen the scope, or bring the records that hold its runs and teardowns.",
  "bad-setting": (facts) =>
    `The setting "${fact(facts, "setting")}" cannot be ${fact(facts, "value")}${given(facts, "allowed") ? `: it takes ${fact(facts, "allowed")}` : ""}. Change it and ask again.`,
  "restoration-unanswered": (facts) =>
    `Nothing is derived yet: the sheets do not say what a rebuild renews or makes up${given(facts, "question") ? ` ("${fact(facts, "question")}")` : ""}. Answer that once under Records.`,
  "tool-not-found": (facts) =>
    `There is no tool ${given(facts, "serial") ? `"${fact(facts, "serial")}" ` : ""}in the records. Check the serial, or bring the sheet that lists it.`,
  "practice-not-found": (facts) =>
    `${fact(facts, "practice")}${given(facts, "level") ? ` "${fact(facts, "level")}"` : ""} is not compared for ${fact(facts, "item")}, ${fact(facts, "mode")} in this scope. Choose one of the list.`,
  "bad-date": (facts) =>
    `"${fact(facts, "value")}" is not a date of the calendar written YYYY-MM-DD. Correct it and ask again.`,
  "bad-mapping": (facts) => {
    const where = given(facts, "pattern")
      ? `The pattern "${fact(facts, "pattern")}" of the mapping`
      : given(facts, "field")
        ? `The field "${fact(facts, "field")}" of the table "${fact(facts, "table")}" in the mapping`
        : given(facts, "table")
          ? `The table "${fact(facts, "table")}" in the mapping`
          : "The mapping";
    return `${where} cannot be used${given(facts, "why") ? `: ${fact(facts, "why")}` : ""}. Correct the mapping and drop the file again.`;
  },
  "unknown-unit": (facts) =>
    `The unit "${fact(facts, "from")}" cannot be turned into "${fact(facts, "to")}". Choose a unit of the same kind.`,
  "sheet-too-large": (facts) =>
    `${inFile(facts)} holds ${megabytes(facts.bytes)}; at most ${megabytes(facts.limit)} can be read at once. Split it and drop the parts together.`,
  "sheet-not-text": (facts) =>
    `${inFile(facts)} is not a text sheet${given(facts, "looksLike") ? `; it looks like ${fact(facts, "looksLike")}` : ""}. Save it as CSV and drop it again.`,
  "sheet-empty": (facts) => `${inFile(facts)} has no header line. Drop a sheet with its column names on top.`,
  "too-many-columns": (facts) =>
    `${inFile(facts)}, line ${fact(facts, "line")}: ${fact(facts, "columns")} columns; at most ${fact(facts, "limit")} can be read. Remove the empty columns, or check the delimiter.`,
  "too-many-lines": (facts) =>
    `${inFile(facts)} has ${fact(facts, "lines")} lines; at most ${fact(facts, "limit")} can be read. Split it and drop the parts one after the other.`,
  "cell-too-long": (facts) =>
    `${inFile(facts)}, line ${fact(facts, "line")}: a cell of ${fact(facts, "characters")} characters; at most ${fact(facts, "limit")} can be read. A quote that is never closed often does this.`,
  "quote-not-closed": (facts) =>
    `${inFile(facts)}, line ${fact(facts, "line")}: a cell opens with a quote that is never closed. Close or remove it and drop the file again.`,
  "workbook-unpacks-too-large": (facts) =>
    `${inFile(facts)} is ${megabytes(facts.bytes)} and unpacks to more than ${megabytes(facts.limit)}, which no workbook of records does. Save the tabs you need in a new workbook and drop that.`,
  "workbook-damaged": (facts) =>
    `${inFile(facts)}${given(facts, "line") ? `, line ${fact(facts, "line")}` : ""} cannot be read as a workbook${given(facts, "why") ? `: ${fact(facts, "why")}` : ""}. Open it in a spreadsheet program, save it again as .xlsx and drop it again.`,
  "workbook-not-readable": (facts) =>
    `${inFile(facts)} is ${fact(facts, "looksLike")}. ${given(facts, "remedy") ? fact(facts, "remedy") : "Save it as .xlsx or CSV and drop it again."}`,
  "too-many-tabs": (facts) =>
    `${inFile(facts)} has ${fact(facts, "tabs")} tabs; at most ${fact(facts, "limit")} can be read at once. Save it in several workbooks and drop them together.`,
  "run-not-found": (facts) =>
    `There is no counted run "${fact(facts, "run")}" in this scope. Check its number, or widen the scope.`,
  "alias-missing": (facts) =>
    `A ${fact(facts, "kind")} of this statement has no name to be called by instead, so nothing was written. Make the statement again; if it stays, look at the last lines the program printed.`,
  "bad-reference-file": (facts) =>
    `${given(facts, "file") ? fact(facts, "file") : "The file"} is not a file of reference cases${given(facts, "why") ? `: ${fact(facts, "why")}` : ""}. See the notes beside the reference cases for its shape.`,
};

function megabytes(bytes: string | number | null | undefined): string {
  return typeof bytes === "number" ? `${formatExact(Math.round(bytes / 1e5) / 10)} MB` : "too much";
}
