import { isBlank } from "./cellValue.ts";
import { type FieldDescriptor, keyOf, type Row, type TableName, tableDescriptors } from "./descriptor.ts";
import { filledDown } from "./fillDown.ts";
import type {
  MappedRow,
  MappedSheet,
  Mapping,
  Origin,
  Problem,
  SheetCells,
  TableMapping,
  WordList,
} from "./mapping.ts";
import { type LineInHand, type PlannedRow, planSheet, type TablePlan } from "./planSheet.ts";
import { contradiction, filledUp, sameValues } from "./sameValues.ts";

type Facts = Problem["facts"];
const linesAtOnce = 2_000;

/** A line with blanks that mean "as above" filled, beside its cells as written. */
interface WrittenRow {
  readonly line: number;
  readonly cells: readonly string[];
  readonly written: readonly string[];
}

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
 *              Where the format says that a blank means "as above", the cell above is read; `asWritten` stays blank.
 * Errors       "bad-mapping" for an unknown table or field, or a regular expression that could hang.
 *
 * @param onLines  Told now and then how many lines were read.
 */
export function mapRows(
  sheet: SheetCells,
  mapping: Mapping,
  words: WordList,
  onLines: (done: number) => void = () => undefined,
): MappedSheet {
  const { planTable: planner, problems: sheetProblems } = planSheet(sheet, mapping.format, words);
  const plans = mapping.tables.map(planner);
  const addedPlans = mapping.addRows.filter((added) => added.answered).map(planner);

  const repeatable = new Set(plans.filter((plan) => plan.mapping.repeated).map((plan) => plan.table));
  const taken = new Map<string, MappedRow>();
  const kept: (WrittenRow & { readonly rows: MappedRow[] })[] = [];
  const setAside: MappedSheet["setAside"][number][] = [];
  const problems: Problem[] = [...(sheet.notices ?? []), ...sheetProblems];
  const filled = filledDown(sheet.headers, sheet.rows, mapping.format.fillDown ?? []);
  for (const [index, { line, cells: written }] of sheet.rows.entries()) {
    const row: WrittenRow = { line, cells: filled[index] ?? written, written };
    if (index % linesAtOnce === 0) onLines(index);
    const origin: Origin = { file: sheet.file, sheet: sheet.sheet, line: row.line };
    const read = readLine(sheet, plans, row, origin);
    const { rows, problems: repeats } = withoutRepeats(read.rows, repeatable, taken, origin);
    const all = [...read.problems, ...repeats];
    problems.push(...all);
    if (all.some((problem) => problem.severity === "error")) {
      const refs = read.rows.filter(hasKey).map(({ table, key }) => ({ table, key }));
      setAside.push({ line, cells: row.cells, problems: all, ...(refs.length > 0 ? { rows: refs } : {}) });
      continue;
    }
    for (const fresh of rows) taken.set(placeOf(fresh), fresh);
    for (const filled of read.rows.filter((each) => repeatable.has(each.table))) {
      const first = taken.get(placeOf(filled));
      if (first !== undefined) taken.set(placeOf(filled), filledUp(first, filled));
    }
    kept.push({ ...row, rows: [...rows] });
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

const hasKey = ({ table, values }: MappedRow): boolean =>
  tableDescriptors[table].primaryKey.every((name) => (values[name] ?? null) !== null);

const placeOf = (row: MappedRow): string => `${row.table} ${row.key}`;

function readLine(sheet: SheetCells, plans: readonly TablePlan[], row: WrittenRow, origin: Origin): LineOutcome {
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

function lengthProblem(sheet: SheetCells, { written }: WrittenRow, origin: Origin): Problem | null {
  const facts = { cells: written.length, headers: sheet.headers.length };
  const surplus = written.slice(sheet.headers.length).find((cell) => !isBlank(cell));
  if (surplus !== undefined) return problemAt(origin, "error", "row-too-long", null, surplus, facts);
  if (written.length < sheet.headers.length) return problemAt(origin, "notice", "row-too-short", null, null, facts);
  return null;
}

function readTable(sheet: SheetCells, plan: TablePlan, row: WrittenRow, origin: Origin): LineOutcome {
  const entries = plan.listIndex === null ? [null] : entriesOf(row.cells[plan.listIndex] ?? "", plan.mapping);
  const rows: MappedRow[] = [];
  const problems: Problem[] = [];
  for (const entry of entries) {
    for (const planned of plan.rows) {
      const line = { line: row.line, cells: row.cells, entry };
      const outcome = readRow(sheet, plan, planned, line, row.written, origin);
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
  planned: PlannedRow,
  line: LineInHand,
  written: readonly string[],
  origin: Origin,
): LineOutcome | null {
  const read = new Map(planned.rules.map(({ field, read }) => [field.name, read(line)]));
  const isEmpty = (name: string) => {
    const found = read.get(name);
    return found === undefined || (found.value === null && (found.written === null || isBlank(found.written)));
  };
  if (plan.mapping.unlessBlank?.every(isEmpty)) return null;

  const problems: Problem[] = [];
  const values: [string, unknown][] = [];
  for (const field of tableDescriptors[plan.table].fields as readonly FieldDescriptor[]) {
    const found = read.get(field.name);
    if (found === undefined && !field.required) continue;
    const value = found?.value ?? (field.required && field.enum?.includes("not known") ? "not known" : null);
    values.push([field.name, value]);
    const severity = field.required && value === null ? "error" : "notice";
    const code = found?.problem?.code ?? (severity === "error" ? "missing-required" : null);
    if (code === null) continue;
    const facts = { table: plan.table, field: field.name, ...found?.problem?.facts };
    problems.push(problemAt(origin, severity, code, found?.column ?? null, found?.written ?? null, facts));
  }
  const record = Object.fromEntries(values);
  const row: MappedRow = {
    table: plan.table,
    key: keyOf(plan.table, record as Row<TableName>),
    values: record,
    asWritten: writtenCells(sheet, planned, written),
    origin,
  };
  return { rows: [row], problems };
}

function writtenCells(
  sheet: SheetCells,
  { kept }: PlannedRow,
  written: readonly string[],
): Readonly<Record<string, string>> {
  return Object.fromEntries(
    kept.flatMap((index) => {
      const cell = written[index] ?? "";
      return cell === "" ? [] : [[sheet.headers[index] ?? "", cell]];
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
