import { AnalysisError } from "../errors.ts";
import { type CellReading, type CellValue, cellValue, isBlank } from "./cellValue.ts";
import { type FieldDescriptor, keyOf, type Row, type TableName, tableDescriptors } from "./descriptor.ts";
import { lookUpWord } from "./lookUpWord.ts";
import type {
  ColumnRule,
  MappedRow,
  MappedSheet,
  Mapping,
  Origin,
  Problem,
  SheetCells,
  TableMapping,
  WordList,
} from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { parseDate } from "./parseDate.ts";
import { caughtBy, safePattern } from "./safePattern.ts";
import { contradiction, filledUp, sameValues } from "./sameValues.ts";

type Facts = Problem["facts"];
type Evaluated = CellValue & { readonly column: string | null; readonly written: string | null };
type Evaluator = {
  readonly field: FieldDescriptor;
  readonly columns: readonly string[];
  readonly read: (line: Line) => Evaluated;
};
type Line = { readonly line: number; readonly cells: readonly string[]; readonly entry: string | null };
type TablePlan = {
  readonly mapping: TableMapping;
  readonly table: TableName;
  readonly variants: readonly (readonly Evaluator[])[];
  readonly listIndex: number | null;
};
interface LineOutcome {
  readonly rows: readonly MappedRow[];
  readonly problems: readonly Problem[];
}

/**
 * Turns the cells of one sheet into canonical rows by a mapping. Pure: the same cells, mapping and words give the same
 * rows.
 *
 * Every data line lands in exactly one of `lines` and `setAside`. A line is set aside, whole and as written, when a
 * row of it lacks a required value, when it has more cells than there are headers, or when it repeats a key with other
 * values. Anything else that cannot be read leaves its field null with a notice. `problems` holds all of both.
 *
 * Conventions  Decimal sign and date orders are those of `mapping.format`. A unit inside the cell wins over the
 *              column's. A blank required word becomes "not known" where the field has that choice. In a join, a cell
 *              of a date column is written as YYYY-MM-DD, so keys agree between sheets that write dates differently.
 *              Rows of `addRows` are made only where answered, and only where the sheet has no such row itself.
 * Errors       "bad-mapping" for an unknown table or field, or a regular expression that could hang.
 */
export function mapRows(sheet: SheetCells, mapping: Mapping, words: WordList): MappedSheet {
  const sheetProblems: Problem[] = [];
  const planner = plannerFor(sheet, mapping, words, sheetProblems);
  const plans = mapping.tables.map(planner);
  const addedPlans = mapping.addRows.filter((added) => added.answered).map(planner);

  const repeatable = new Set(plans.filter((plan) => plan.mapping.repeated).map((plan) => plan.table));
  const taken = new Map<string, MappedRow>();
  const kept: { line: number; cells: readonly string[]; rows: MappedRow[] }[] = [];
  const setAside: MappedSheet["setAside"][number][] = [];
  const problems: Problem[] = [...sheetProblems];
  for (const row of sheet.rows) {
    const origin: Origin = { file: sheet.file, sheet: sheet.sheet, line: row.line };
    const read = readLine(sheet, plans, row, origin);
    const { rows, problems: repeats } = withoutRepeats(read.rows, repeatable, taken, origin);
    const all = [...read.problems, ...repeats];
    problems.push(...all);
    if (all.some((problem) => problem.severity === "error")) {
      setAside.push({ line: row.line, cells: row.cells, problems: all });
      continue;
    }
    for (const fresh of rows) taken.set(placeOf(fresh), fresh);
    for (const filled of read.rows.filter((each) => repeatable.has(each.table))) {
      const first = taken.get(placeOf(filled));
      if (first !== undefined) taken.set(placeOf(filled), filledUp(first, filled));
    }
    kept.push({ line: row.line, cells: row.cells, rows: [...rows] });
  }
  for (const line of kept) {
    const origin: Origin = { file: sheet.file, sheet: sheet.sheet, line: line.line };
    const added = addedPlans.flatMap((plan) => readTable(sheet, plan, line, origin).rows.filter(isComplete));
    for (const row of added) {
      if (taken.has(placeOf(row))) continue;
      const marked: MappedRow = { ...row, added: true };
      taken.set(placeOf(row), marked);
      line.rows.push(marked);
    }
  }
  return {
    file: sheet.file,
    sheet: sheet.sheet,
    lines: kept.map(({ line, rows }) => ({ line, rows: rows.map((row) => taken.get(placeOf(row)) ?? row) })),
    setAside,
    problems,
  };
}

/** An added row may leave a required value open on purpose: an item that only some tool types have. */
const isComplete = (row: MappedRow): boolean =>
  (tableDescriptors[row.table].fields as readonly FieldDescriptor[]).every(
    (field) => !field.required || (row.values[field.name] ?? null) !== null,
  );

const placeOf = (row: MappedRow): string => `${row.table} ${row.key}`;

function readLine(
  sheet: SheetCells,
  plans: readonly TablePlan[],
  row: SheetCells["rows"][number],
  origin: Origin,
): LineOutcome {
  const problem = lengthProblem(sheet, row, origin);
  const read = plans.map((plan) => readTable(sheet, plan, row, origin));
  const rows = read.flatMap((outcome) => outcome.rows);
  const problems = [...(problem === null ? [] : [problem]), ...read.flatMap((outcome) => outcome.problems)];
  if (rows.length === 0 && !problems.some((each) => each.severity === "error")) {
    problems.push(
      problemAt(origin, "error", "missing-required", null, null, { table: plans[0]?.table ?? null, field: null }),
    );
  }
  return { rows, problems };
}

function lengthProblem(sheet: SheetCells, row: SheetCells["rows"][number], origin: Origin): Problem | null {
  const facts = { cells: row.cells.length, headers: sheet.headers.length };
  const surplus = row.cells.slice(sheet.headers.length).find((cell) => !isBlank(cell));
  if (surplus !== undefined) return problemAt(origin, "error", "row-too-long", null, surplus, facts);
  if (row.cells.length < sheet.headers.length) return problemAt(origin, "notice", "row-too-short", null, null, facts);
  return null;
}

function readTable(
  sheet: SheetCells,
  plan: TablePlan,
  row: { readonly line: number; readonly cells: readonly string[] },
  origin: Origin,
): LineOutcome {
  const entries = plan.listIndex === null ? [null] : entriesOf(row.cells[plan.listIndex] ?? "", plan.mapping);
  const rows: MappedRow[] = [];
  const problems: Problem[] = [];
  for (const entry of entries) {
    for (const evaluators of plan.variants) {
      const line = { line: row.line, cells: row.cells, entry };
      const outcome = readRow(sheet, plan, evaluators, line, origin);
      if (outcome === null) continue;
      rows.push(...outcome.rows);
      problems.push(...outcome.problems);
    }
  }
  return { rows, problems };
}

function entriesOf(cell: string, { list }: TableMapping): readonly string[] {
  const parts = cell.split(list?.separator || ";").map((part) => part.trim());
  return [...new Set(parts)].filter((part) => !isBlank(part));
}

function readRow(
  sheet: SheetCells,
  plan: TablePlan,
  evaluators: readonly Evaluator[],
  line: Line,
  origin: Origin,
): LineOutcome | null {
  const read = evaluators.map(({ field, read }) => ({ field, ...read(line) }));
  const unlessBlank = plan.mapping.unlessBlank;
  const isEmpty = (name: string) => {
    const found = read.find(({ field }) => field.name === name);
    return found === undefined || (found.value === null && (found.written === null || isBlank(found.written)));
  };
  if (unlessBlank?.every(isEmpty)) return null;

  const problems: Problem[] = [];
  const values: [string, unknown][] = [];
  for (const field of tableDescriptors[plan.table].fields as readonly FieldDescriptor[]) {
    const found = read.find((each) => each.field.name === field.name);
    const value = found?.value ?? (field.required && field.enum?.includes("not known") ? "not known" : null);
    const severity = field.required && value === null ? "error" : "notice";
    const facts = { table: plan.table, field: field.name };
    if (found?.problem !== undefined) {
      const { code, facts: more } = found.problem;
      problems.push(problemAt(origin, severity, code, found.column, found.written, { ...facts, ...more }));
    } else if (severity === "error") {
      problems.push(
        problemAt(origin, "error", "missing-required", found?.column ?? null, found?.written ?? null, facts),
      );
    }
    if (found !== undefined || field.required) values.push([field.name, value]);
  }
  const record = Object.fromEntries(values);
  const row: MappedRow = {
    table: plan.table,
    key: keyOf(plan.table, record as Row<TableName>),
    values: record,
    asWritten: writtenCells(sheet, plan, evaluators, line),
    origin,
  };
  return { rows: [row], problems };
}

/** The whole line where it makes one row of the table; the cells used where it makes several. */
function writtenCells(
  sheet: SheetCells,
  plan: TablePlan,
  evaluators: readonly Evaluator[],
  line: Line,
): Readonly<Record<string, string>> {
  const several = plan.variants.length > 1 || plan.listIndex !== null;
  const used = several ? new Set(evaluators.flatMap((each) => each.columns)) : null;
  return Object.fromEntries(
    sheet.headers.flatMap((header, index) => {
      const cell = line.cells[index] ?? "";
      return cell === "" || (used !== null && !used.has(header)) ? [] : [[header, cell]];
    }),
  );
}

function withoutRepeats(
  rows: readonly MappedRow[],
  repeatable: ReadonlySet<TableName>,
  taken: ReadonlyMap<string, MappedRow>,
  origin: Origin,
): LineOutcome {
  const fresh = new Map<string, MappedRow>();
  const problems: Problem[] = [];
  for (const row of rows) {
    const first = taken.get(placeOf(row)) ?? fresh.get(placeOf(row));
    if (first === undefined) {
      fresh.set(placeOf(row), row);
      continue;
    }
    const repeated = repeatable.has(row.table);
    const difference = repeated ? contradiction(first.values, row.values) : sameValues(first.values, row.values);
    if (repeated && difference === null) continue;
    const facts = { table: row.table, key: row.key, firstLine: first.origin.line, field: difference };
    const code = repeated ? "repeated-row-differs" : "repeated-key";
    problems.push(problemAt(origin, difference === null ? "notice" : "error", code, null, null, facts));
  }
  return { rows: [...fresh.values()], problems };
}

function problemAt(
  origin: Origin,
  severity: Problem["severity"],
  code: Problem["code"],
  column: string | null,
  value: string | null,
  facts: Facts,
): Problem {
  return { code, severity, origin, column, value, facts };
}

/** Prepares the rules of a sheet once: columns found, patterns compiled, fields checked. */
function plannerFor(
  sheet: SheetCells,
  mapping: Mapping,
  wordList: WordList,
  problems: Problem[],
): (table: TableMapping) => TablePlan {
  const exact = new Map(sheet.headers.map((header, index) => [header, index]));
  const normal = new Map(sheet.headers.map((header, index) => [normalisePhrase(header), index]));
  const missing = new Set<string>();
  const find = (header: string): number | null => {
    const index = exact.get(header) ?? normal.get(normalisePhrase(header));
    if (index !== undefined) return index;
    if (!missing.has(header)) {
      missing.add(header);
      const origin = { file: sheet.file, sheet: sheet.sheet, line: sheet.headerLine };
      problems.push(problemAt(origin, "notice", "no-such-column", header, null, { column: header }));
    }
    return null;
  };
  const orderOf = (header: string) => {
    const { dateOrder } = mapping.format;
    return Object.hasOwn(dateOrder, header) ? dateOrder[header] : undefined;
  };

  const cellReader = (header: string) => {
    const index = find(header);
    return (line: Line) => (index === null ? "" : (line.cells[index] ?? "").trim());
  };

  const evaluator = (table: TableMapping, field: FieldDescriptor, rule: ColumnRule): Evaluator => {
    const reading = (header: string | null): CellReading => ({
      field,
      unit: rule.unit,
      words: rule.words,
      decimal: mapping.format.decimal,
      dateOrder: (header === null ? undefined : orderOf(header)) ?? "dmy",
      wordList,
    });
    if (table.list?.field === field.name) {
      const column = table.list.from;
      const how = reading(column);
      return {
        field,
        columns: [column],
        read: (line) => ({ column, written: line.entry, ...cellValue(line.entry ?? "", how) }),
      };
    }
    if ("from" in rule) {
      const [column, cell, how] = [rule.from, cellReader(rule.from), reading(rule.from)];
      return {
        field,
        columns: [column],
        read: (line) => {
          const written = cell(line);
          return { column, written, ...cellValue(written, how) };
        },
      };
    }
    if ("constant" in rule) {
      const value = typeof rule.constant === "string" ? meaningOf(rule.constant, rule, wordList) : rule.constant;
      return { field, columns: [], read: () => ({ column: null, written: null, value }) };
    }
    if ("pattern" in rule) {
      const [column, cell, pattern, how] = [rule.of, cellReader(rule.of), safePattern(rule.pattern), reading(rule.of)];
      return {
        field,
        columns: [column],
        read: (line) => {
          const written = cell(line);
          if (isBlank(written)) return { column, written, value: null };
          const caught = caughtBy(pattern, written);
          const becomes = caught === null || rule.becomes === undefined ? caught : becomesOf(rule.becomes, caught);
          if (becomes === null)
            return {
              column,
              written,
              value: null,
              problem: { code: "pattern-did-not-match", facts: { pattern: rule.pattern } },
            };
          return { column, written, ...(typeof becomes === "number" ? { value: becomes } : cellValue(becomes, how)) };
        },
      };
    }
    if ("split" in rule) {
      const [column, cell, how] = [rule.split, cellReader(rule.split), reading(rule.split)];
      return {
        field,
        columns: [column],
        read: (line) => {
          const written = cell(line);
          return { column, written, ...cellValue(written.split(rule.separator)[rule.index]?.trim() ?? "", how) };
        },
      };
    }
    const parts = rule.join.map((header) =>
      header === "{line}" ? (line: Line) => String(line.line) : joinPart(cellReader(header), orderOf(header)),
    );
    const columns = rule.join.filter((header) => header !== "{line}");
    return {
      field,
      columns,
      read: (line) => {
        const texts = parts.map((part) => part(line));
        const written = texts.join(rule.separator);
        if (texts.some(isBlank))
          return { column: columns[0] ?? null, written: texts.every(isBlank) ? "" : written, value: null };
        return { column: columns[0] ?? null, written, ...cellValue(written, reading(null)) };
      },
    };
  };

  return (table) => {
    if (!Object.hasOwn(tableDescriptors, table.table))
      throw new AnalysisError("bad-mapping", { table: table.table, why: "no such table" });
    const fields: readonly FieldDescriptor[] = tableDescriptors[table.table].fields;
    const variants = (table.members ?? [{}]).map((member) => {
      const rules = new Map([...Object.entries(table.columns), ...Object.entries(member)]);
      if (table.list !== undefined && !rules.has(table.list.field))
        rules.set(table.list.field, { from: table.list.from });
      return [...rules].map(([name, rule]) => {
        const field = fields.find((each) => each.name === name);
        if (field === undefined)
          throw new AnalysisError("bad-mapping", { table: table.table, field: name, why: "no such field" });
        return evaluator(table, field, rule);
      });
    });
    const listIndex = table.list === undefined ? null : find(table.list.from);
    return {
      mapping: table,
      table: table.table,
      variants,
      listIndex: table.list === undefined ? null : (listIndex ?? -1),
    };
  };
}

/** A constant with a vocabulary takes its meaning there, so that "Part A" of a header is the item the shop lists. */
function meaningOf(constant: string, { words }: ColumnRule, wordList: WordList): string | number | boolean | null {
  const meant = words === undefined ? undefined : lookUpWord(wordList, words, constant);
  return meant === undefined ? constant : meant;
}

/** What was caught, as the mapping translates it; case does not matter. */
function becomesOf(becomes: Readonly<Record<string, string | number>>, caught: string): string | number | null {
  if (Object.hasOwn(becomes, caught)) return becomes[caught] ?? null;
  const normal = caught.toLowerCase();
  return Object.entries(becomes).find(([name]) => name.toLowerCase() === normal)?.[1] ?? null;
}

function joinPart(cell: (line: Line) => string, order: "ymd" | "dmy" | "mdy" | undefined): (line: Line) => string {
  if (order === undefined) return cell;
  return (line) => {
    const written = cell(line);
    const date = parseDate(written, order);
    return date === null || date === "impossible" ? written : date;
  };
}
