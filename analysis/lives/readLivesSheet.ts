import type { SheetCells } from "../records/mapping.ts";
import { normalisePhrase } from "../records/normalisePhrase.ts";
import { type LivesSheetColumns, LivesSheetLine, type LivesSheetRole } from "./livesSheetLine.ts";
import type { LivesSheet, LivesSheetLife, LivesSheetProblem } from "./livesSheetTypes.ts";

const roleWords: Readonly<Record<LivesSheetRole, readonly string[]>> = {
  age: ["age", "hours", "time", "life", "distance", "cycles", "revolutions"],
  lower: ["lower", "from", "last known good", "last seen good"],
  upper: ["upper", "to", "first known failed", "first seen failed"],
  ended: ["how it ended", "ended", "outcome", "ending"],
  count: ["count", "number", "quantity", "qty", "n"],
  entry: ["entry", "age at entry", "observed from"],
  id: ["id", "serial", "unit", "specimen"],
};

/**
 * Reads a sheet that lists lives, one line each: how old, how it ended, how many alike.
 *
 *   failed at        exact at the age, or at `lower` = `upper`
 *   failed before    failed in (0, age], or in (0, upper]; with an entry age, in (entry, upper]
 *   failed between   failed in (lower, upper]
 *   still good at    right-censored at the age, or at `lower`
 *
 * @param sheet  Cells as written. Headers: an age, or `lower` and `upper`; how it ended; optionally count, entry age, id.
 *               "(h)" at the end of a header is the unit. Every other column is a covariate, kept as text.
 * Conventions   A sheet with `lower` and `upper` and no column for the ending says it by them: upper blank is still good,
 *               lower equal to upper is failed at, else failed between. A code such as 0 or 1 for the ending is refused,
 *               since sheets differ in which of them is the failure. A blank count is 1, a blank entry is 0.
 * Errors        None thrown: a line that cannot be read is in `setAside` with its line, column and cell. Without an age
 *               column, without a way to tell how lives ended, or with ages headed in different units, every line is.
 */
export function readLivesSheet(sheet: SheetCells): LivesSheet {
  const problems: LivesSheetProblem[] = [];
  const { columns, unit, covariates } = readHeaders(sheet, problems);
  const readable = problems.every(({ code }) => code === "column-twice");
  const lives: LivesSheetLife[] = [];
  const setAside: LivesSheet["setAside"][number][] = [];
  for (const { line, cells } of sheet.rows) {
    const reader = new LivesSheetLine(sheet, columns, unit, line, cells);
    const life = readable ? reader.life(covariates) : null;
    if (life !== null && reader.problems.length === 0) lives.push(life);
    else {
      setAside.push({ line, cells, problems: reader.problems });
      problems.push(...reader.problems);
    }
  }
  return { unit, covariates: covariates.map(({ header }) => header), lives, setAside, problems };
}

function readHeaders(sheet: SheetCells, problems: LivesSheetProblem[]) {
  const columns: { -readonly [R in LivesSheetRole]?: LivesSheetColumns[R] } = {};
  const covariates: { readonly index: number; readonly header: string }[] = [];
  const units = new Set<string>();
  const report = (code: LivesSheetProblem["code"], column: string | null, facts: LivesSheetProblem["facts"] = {}) =>
    problems.push({
      code,
      origin: { file: sheet.file, sheet: sheet.sheet, line: sheet.headerLine },
      column,
      value: column,
      facts,
    });

  for (const [index, header] of sheet.headers.entries()) {
    const unit = /\(([^()]*)\)\s*$/.exec(header)?.[1]?.trim() ?? "";
    const name = normalisePhrase(header.replace(/\([^()]*\)\s*$/, ""));
    const role = roles.find((candidate) => roleWords[candidate].includes(name));
    if (role === undefined) covariates.push({ index, header });
    else if (columns[role] !== undefined) {
      report("column-twice", header, { first: columns[role].header });
      covariates.push({ index, header });
    } else {
      columns[role] = { index, header };
      if (unit !== "" && ["age", "lower", "upper", "entry"].includes(role)) units.add(unit);
    }
  }
  const [unit = null, ...otherUnits] = units;
  if (otherUnits.length > 0) report("units-differ", null, { units: [...units].join(", ") });
  const bothEnds = columns.lower !== undefined && columns.upper !== undefined;
  if (columns.age === undefined && !bothEnds) report("no-age-column", null);
  if (columns.ended === undefined && !bothEnds) report("no-ending-column", null);
  return { columns, unit, covariates };
}

const roles: readonly LivesSheetRole[] = ["age", "lower", "upper", "ended", "count", "entry", "id"];
