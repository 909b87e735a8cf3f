import { AnalysisError } from "../errors.ts";
import { type CellReading, type CellValue, cellValue, isBlank } from "./cellValue.ts";
import { type FieldDescriptor, type TableName, tableDescriptors } from "./descriptor.ts";
import type { ColumnRule, DateOrder, Problem, SheetCells, SheetFormat, TableMapping, WordList } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { parseDate } from "./parseDate.ts";
import { headersOf } from "./ruleUses.ts";
import { caughtBy, safePattern } from "./safePattern.ts";

/** A line being read; `entry` is one entry of its list cell. */
export interface LineInHand {
  readonly line: number;
  readonly cells: readonly string[];
  readonly entry: string | null;
}

/** A value with the column and the text it came from; null where it came from no cell. */
export type ReadValue = CellValue & { readonly column: string | null; readonly written: string | null };

/** One canonical row a line may give: how each field is read, and which cells are kept with it as written. */
export interface PlannedRow {
  readonly rules: readonly { readonly field: FieldDescriptor; readonly read: (line: LineInHand) => ReadValue }[];
  readonly kept: readonly number[];
}

export interface TablePlan {
  readonly mapping: TableMapping;
  readonly table: TableName;
  /** One entry a member; one in all for a table without members. */
  readonly rows: readonly PlannedRow[];
  /** Column of the list cell; null where the table has no list, -1 where the sheet has no such column. */
  readonly listIndex: number | null;
}

interface Columns {
  /** Index of a header in the sheet; case and punctuation do not matter. */
  readonly find: (header: string) => number | null;
  readonly orderOf: (header: string) => DateOrder | undefined;
}

/**
 * Prepares the rules of a sheet once, so that reading a line is only looking up: columns found, patterns compiled,
 * tables, fields and constants checked.
 *
 * @returns  `problems` fills while tables are planned: one notice for each column that the sheet does not have.
 * Errors    "bad-mapping" for an unknown table or field, a constant that the field cannot hold, an unsafe pattern.
 */
export function planSheet(
  sheet: SheetCells,
  format: SheetFormat,
  wordList: WordList,
): { readonly planTable: (table: TableMapping) => TablePlan; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const columns = columnsOf(sheet, format, problems);
  const planTable = (table: TableMapping): TablePlan => {
    if (!Object.hasOwn(tableDescriptors, table.table)) throw badMapping(table.table, null, "no such table");
    const several = (table.members?.length ?? 1) > 1 || table.list !== undefined;
    const rows = (table.members ?? [{}]).map((member): PlannedRow => {
      const rules = new Map([...Object.entries(table.columns), ...Object.entries(member)]);
      if (table.list !== undefined && !rules.has(table.list.field))
        rules.set(table.list.field, { from: table.list.from });
      const used = new Set([...rules.values()].flatMap(headersOf).flatMap((header) => columns.find(header) ?? []));
      return {
        rules: [...rules].map(([name, rule]) => {
          const field = fieldOf(table.table, name);
          const how = {
            field,
            unit: rule.unit,
            words: rule.words,
            decimal: format.decimal,
            dateOrder: "dmy",
            wordList,
          } as const;
          const read =
            table.list?.field === name
              ? entryReader(table.list.from, how)
              : ruleReader(table.table, rule, how, columns);
          return { field, read };
        }),
        // The whole line where it makes one row of the table, else the cells that this row used.
        kept: sheet.headers.flatMap((_, index) => (several && !used.has(index) ? [] : [index])),
      };
    });
    const listIndex = table.list === undefined ? null : (columns.find(table.list.from) ?? -1);
    return { mapping: table, table: table.table, rows, listIndex };
  };
  return { planTable, problems };
}

const badMapping = (table: string, field: string | null, why: string): AnalysisError =>
  new AnalysisError("bad-mapping", { table, field, why });

function fieldOf(table: TableName, name: string): FieldDescriptor {
  const fields: readonly FieldDescriptor[] = tableDescriptors[table].fields;
  const field = fields.find((each) => each.name === name);
  if (field === undefined) throw badMapping(table, name, "no such field");
  return field;
}

function columnsOf(sheet: SheetCells, format: SheetFormat, problems: Problem[]): Columns {
  const exact = new Map(sheet.headers.map((header, index) => [header, index]));
  const normal = new Map(sheet.headers.map((header, index) => [normalisePhrase(header), index]));
  const missing = new Set<string>();
  const find = (header: string): number | null => {
    const index = exact.get(header) ?? normal.get(normalisePhrase(header));
    if (index !== undefined) return index;
    if (!missing.has(header)) {
      missing.add(header);
      const origin = { file: sheet.file, sheet: sheet.sheet, line: sheet.headerLine };
      problems.push({
        code: "no-such-column",
        severity: "notice",
        origin,
        column: header,
        value: null,
        facts: { column: header },
      });
    }
    return null;
  };
  const orderOf = (header: string) => {
    const name = sheet.headers[find(header) ?? -1] ?? header;
    return Object.hasOwn(format.dateOrder, name) ? format.dateOrder[name] : undefined;
  };
  return { find, orderOf };
}

type Read = (line: LineInHand) => ReadValue;

const entryReader =
  (column: string, how: CellReading): Read =>
  (line) => ({
    column,
    written: line.entry,
    ...cellValue(line.entry ?? "", how),
  });

function ruleReader(table: TableName, rule: ColumnRule, how: CellReading, columns: Columns): Read {
  if ("constant" in rule) {
    const value = constantValue(table, rule.constant, how);
    return () => ({ column: null, written: null, value });
  }
  if ("join" in rule) return joinReader(rule.join, rule.separator, how, columns);
  const column = "from" in rule ? rule.from : "pattern" in rule ? rule.of : rule.split;
  const index = columns.find(column);
  const reading: CellReading = { ...how, dateOrder: columns.orderOf(column) ?? "dmy" };
  const read = "from" in rule ? cellValue : "pattern" in rule ? patternReader(rule) : splitReader(rule);
  return (line) => {
    const written = index === null ? "" : (line.cells[index] ?? "").trim();
    return { column, written, ...read(written, reading) };
  };
}

type ReadCell = (written: string, how: CellReading) => CellValue;

function patternReader(rule: Extract<ColumnRule, { pattern: string }>): ReadCell {
  const pattern = safePattern(rule.pattern);
  return (written, how) => {
    if (isBlank(written)) return { value: null };
    const caught = caughtBy(pattern, written);
    const becomes = caught === null || rule.becomes === undefined ? caught : becomesOf(rule.becomes, caught);
    if (becomes === null)
      return { value: null, problem: { code: "pattern-did-not-match", facts: { pattern: rule.pattern } } };
    return typeof becomes === "number" ? { value: becomes } : cellValue(becomes, how);
  };
}

/** What was caught, as the mapping translates it; case does not matter. */
function becomesOf(becomes: Readonly<Record<string, string | number>>, caught: string): string | number | null {
  if (Object.hasOwn(becomes, caught)) return becomes[caught] ?? null;
  const normal = caught.toLowerCase();
  return Object.entries(becomes).find(([name]) => name.toLowerCase() === normal)?.[1] ?? null;
}

const splitReader =
  ({ separator, index }: Extract<ColumnRule, { split: string }>): ReadCell =>
  (written, how) =>
    cellValue(written.split(separator)[index]?.trim() ?? "", how);

function joinReader(join: readonly string[], separator: string, how: CellReading, columns: Columns): Read {
  const column = join.find((header) => header !== "{line}") ?? null;
  const parts = join.map((header) =>
    header === "{line}" ? (line: LineInHand) => String(line.line) : joinPart(header, columns),
  );
  return (line) => {
    const texts = parts.map((part) => part(line));
    if (texts.some(isBlank)) return { column, written: texts.every(isBlank) ? "" : texts.join(separator), value: null };
    const written = texts.join(separator);
    return { column, written, ...cellValue(written, how) };
  };
}

/** A cell of a date column joins as YYYY-MM-DD. */
function joinPart(header: string, columns: Columns): (line: LineInHand) => string {
  const [index, order] = [columns.find(header), columns.orderOf(header)];
  return (line) => {
    const written = index === null ? "" : (line.cells[index] ?? "").trim();
    const date = order === undefined ? null : parseDate(written, order);
    return date === null || date === "impossible" ? written : date;
  };
}

/**
 * A constant as the field holds it. One with a vocabulary takes its meaning there, so that an item named by a header
 * is the item that the shop lists.
 */
function constantValue(
  table: TableName,
  constant: Extract<ColumnRule, { constant: unknown }>["constant"],
  how: CellReading,
): unknown {
  const { field } = how;
  if (typeof constant === "string" && field.type !== "array") {
    const { value, problem } = cellValue(constant, how);
    if (problem !== undefined) throw badMapping(table, field.name, `"${constant.slice(0, 80)}" cannot be its value`);
    return value;
  }
  const fits =
    constant === null ||
    (typeof constant === "number" &&
      (field.type === "number" || (field.type === "integer" && Number.isInteger(constant)))) ||
    (typeof constant === "boolean" && field.type === "boolean") ||
    (Array.isArray(constant) && field.type === "array");
  if (!fits) throw badMapping(table, field.name, `${JSON.stringify(constant)} cannot be its value`);
  return constant;
}
