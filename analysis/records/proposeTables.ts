import type { Assignment } from "./assignHeaders.ts";
import { isBlank } from "./cellValue.ts";
import type { TableName } from "./descriptor.ts";
import type { ColumnRule, SheetCells, TableMapping } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { type SheetColumn, vocabularyOf } from "./sheetColumns.ts";

type Rules = Readonly<Record<string, ColumnRule>>;

export interface ProposedTables {
  readonly tables: readonly TableMapping[];
  /** Headers that were understood but cannot be used, with why. */
  readonly left: ReadonlyMap<string, string>;
  readonly openFitted: Readonly<OpenFitted>;
}

/** What the sheet says about fitted items without saying whether they were renewed; `proposeAddedRows` asks. */
export interface OpenFitted {
  /** Columns by item: "Main seal lot". */
  readonly byItem: Map<string, Rules>;
  /** One line an item, without a column for renewed. */
  listed: TableMapping | null;
}

/** Builds the table mappings of a sheet from what its headers were taken for. */
export function proposeTables(
  assignments: readonly Assignment[],
  units: ReadonlyMap<string, string>,
  columns: readonly SheetColumn[],
  sheet: SheetCells,
): ProposedTables {
  const left = new Map<string, string>();
  const rule = ({ column, table, field }: Assignment): ColumnRule => {
    const unit = units.get(column.header);
    const words = vocabularyOf(table, field);
    return { from: column.header, ...(unit === undefined ? {} : { unit }), ...(words === undefined ? {} : { words }) };
  };
  const plain = (table: TableName): Rules =>
    Object.fromEntries(
      assignments
        .filter((each) => each.table === table && each.members.length === 0 && each.field !== "list")
        .map((each) => [each.field, rule(each)]),
    );
  const groups = (table: TableName): ReadonlyMap<string, Rules> => {
    const found = new Map<string, Rules>();
    for (const each of assignments) {
      if (each.table !== table) continue;
      for (const member of each.members) found.set(member, { ...found.get(member), [each.field]: rule(each) });
    }
    return found;
  };
  const context: Context = { plain, groups, assignments, sheet, columns, left };
  const open: OpenFitted = { byItem: new Map(), listed: null };
  const tables = [
    ...runTables(context),
    ...buildTables(context, open),
    ...teardownTables(context),
    ...simpleTable(context, "tools"),
    ...simpleTable(context, "tool_items"),
    ...simpleTable(context, "modes"),
    ...simpleTable(context, "compounds"),
  ];
  return { tables, left, openFitted: open };
}

interface Context {
  readonly plain: (table: TableName) => Rules;
  readonly groups: (table: TableName) => ReadonlyMap<string, Rules>;
  readonly assignments: readonly Assignment[];
  readonly sheet: SheetCells;
  readonly columns: readonly SheetColumn[];
  readonly left: Map<string, string>;
}

const fromOf = (rule: ColumnRule | undefined): string | null =>
  rule !== undefined && "from" in rule ? rule.from : null;

/** Tables other sheets may describe too: tool lists, and tool type and size beside a serial. */
function simpleTable({ plain, assignments, left }: Context, table: TableName): readonly TableMapping[] {
  const columns = plain(table);
  const own = assignments.some(
    (each) =>
      each.table === table &&
      each.field === (table === "compounds" ? "compound" : table === "tools" ? "serial" : "item"),
  );
  if (own) return [{ table, columns }];
  if (table !== "tools" || Object.keys(columns).length === 0) return [];
  const serial = assignments.find((each) => each.field === "serial" && each.table !== "fitted_items");
  if (serial === undefined || columns.tool_type === undefined) {
    for (const each of assignments)
      if (each.table === "tools")
        left.set(each.column.header, "Without a tool type in the sheet this alone describes no tool.");
    return [];
  }
  return [{ table, columns: { serial: { from: serial.column.header }, ...columns }, repeated: true }];
}

function runTables(context: Context): readonly TableMapping[] {
  const columns = context.plain("runs");
  if (columns.serial === undefined || columns.out_on === undefined) return [];
  const key = keyRule(context, columns.run, columns.serial, columns.out_on, false);
  const header = fromOf(columns.hours);
  const kind = header === null || columns.hours_kind !== undefined ? null : hoursKindOf(header);
  const more: Rules = kind === null ? {} : { hours_kind: { constant: kind } };
  return [{ table: "runs", columns: { ...columns, run: key, ...more } }];
}

function hoursKindOf(header: string): "circulating" | "drilling" | "below rotary" | null {
  const text = normalisePhrase(header);
  if (/\b(circ\w*|zirk\w*|pump\w*)\b/.test(text)) return "circulating";
  if (/\b(drill\w*|bohrstunden|rotating)\b/.test(text)) return "drilling";
  return /\b(brt|below rotary)\b/.test(text) ? "below rotary" : null;
}

function buildTables(context: Context, open: OpenFitted): readonly TableMapping[] {
  const redresses = context.plain("redresses");
  const serial = redresses.serial;
  const date = redresses.done_on;
  if (redresses.redress === undefined && (serial === undefined || date === undefined)) return [];
  const joints = context.plain("joints");
  const fitted = context.plain("fitted_items");
  const long = joints.joint !== undefined || fitted.item !== undefined;
  const redress = keyRule(context, redresses.redress, serial, date, long);
  const tables: TableMapping[] = [];
  if (serial !== undefined && date !== undefined) {
    tables.push({
      table: "redresses",
      columns: { ...redresses, redress },
      ...(long ? { repeated: true as const } : {}),
    });
  }
  tables.push(...jointTables(context, joints, redress), ...fittedTables(context, fitted, redress, open));
  return tables;
}

function jointTables(context: Context, joints: Rules, redress: ColumnRule): readonly TableMapping[] {
  const groups = context.groups("joints");
  if (joints.joint !== undefined) return [{ table: "joints", columns: { redress, ...joints }, unlessBlank: ["joint"] }];
  if (groups.size === 0) {
    for (const { column } of context.assignments.filter((each) => each.table === "joints")) {
      context.left.set(
        column.header,
        "The sheet does not say which joint this belongs to; the cells stay with the row as written.",
      );
    }
    return [];
  }
  const members = [...groups]
    .sort(byMember)
    .map(([joint, rules]): Rules => ({ joint: { constant: joint, words: "items" }, ...rules }));
  const unlessBlank = [...new Set([...groups.values()].flatMap(Object.keys))];
  return [{ table: "joints", columns: { redress, ...joints }, members, unlessBlank }];
}

const byMember = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number =>
  Number(a.replace(/\D/g, "")) - Number(b.replace(/\D/g, ""));

function fittedTables(context: Context, fitted: Rules, redress: ColumnRule, open: OpenFitted): readonly TableMapping[] {
  const tables: TableMapping[] = [];
  const { item, ...others } = fitted;
  const fittedColumns = () =>
    context.assignments.filter(
      (each) => each.table === "fitted_items" && each.members.length === 0 && each.field !== "list",
    );
  if (item !== undefined) {
    const long: TableMapping = { table: "fitted_items", columns: { redress, ...fitted }, unlessBlank: ["item"] };
    if (fitted.renewed !== undefined) tables.push(long);
    else open.listed = { ...long, columns: { ...long.columns, renewed: { constant: true } } };
  } else if (Object.keys(others).length > 0) {
    for (const { column } of fittedColumns()) {
      context.left.set(
        column.header,
        "The sheet does not say which item this belongs to; the cells stay with the row as written.",
      );
    }
  }
  const members: Rules[] = [];
  for (const [name, rules] of context.groups("fitted_items")) {
    if (rules.renewed === undefined) open.byItem.set(name, rules);
    else members.push({ item: { constant: name, words: "items" }, ...rules });
  }
  if (members.length > 0)
    tables.push({ table: "fitted_items", columns: { redress }, members, unlessBlank: ["renewed"] });
  const list = context.assignments.find((each) => each.table === "fitted_items" && each.field === "list");
  if (list !== undefined) {
    const from = list.column.header;
    tables.push({
      table: "fitted_items",
      columns: { redress, item: { from, words: "items" }, renewed: { constant: true } },
      list: { from, separator: separatorOf(list.column.cells), field: "item" },
    });
  }
  return tables;
}

/** What parts the entries of list cells: the first sign that some cell has, of ; , + / */
const separatorOf = (cells: readonly string[]): string =>
  [";", ",", "+", "/"].find((sign) => cells.some((cell) => cell.includes(sign))) ?? ";";

function teardownTables(context: Context): readonly TableMapping[] {
  const teardowns = context.plain("teardowns");
  const serial = teardowns.serial;
  const date = teardowns.done_on;
  if (teardowns.teardown === undefined && (serial === undefined || date === undefined)) return [];
  const findings = context.plain("findings");
  const long = findings.item !== undefined && findings.condition !== undefined;
  const teardown = keyRule(context, teardowns.teardown, serial, date, long);
  const tables: TableMapping[] = [];
  if (serial !== undefined && date !== undefined) {
    tables.push({
      table: "teardowns",
      columns: { ...teardowns, teardown },
      ...(long ? { repeated: true as const } : {}),
    });
  }
  if (long)
    return [...tables, { table: "findings", columns: { teardown, ...findings }, unlessBlank: ["item", "condition"] }];
  const members: Rules[] = [];
  for (const [name, rules] of context.groups("findings")) {
    const headers = Object.values(rules).flatMap((rule) => fromOf(rule) ?? []);
    const named = rules.item !== undefined || !name.startsWith("#");
    if (rules.condition === undefined || !named) {
      for (const header of headers)
        context.left.set(
          header,
          "No column beside it says in which condition the item was; the cells stay with the row as written.",
        );
      continue;
    }
    members.push({ ...(rules.item === undefined ? { item: { constant: name, words: "items" } } : {}), ...rules });
  }
  if (members.length > 0)
    tables.push({ table: "findings", columns: { teardown }, members, unlessBlank: ["condition"] });
  for (const [field, each] of Object.entries(findings)) {
    const header = fromOf(each);
    if (header !== null)
      context.left.set(
        header,
        `The sheet does not say which item the ${field.replace(/_.*/, "")} belongs to; the cells stay with the row as written.`,
      );
  }
  return tables;
}

/**
 * The key of a build, run or teardown: its number where the sheet has one that is not used twice, else serial and date
 * joined; number and serial joined where numbers begin anew with each tool.
 */
function keyRule(
  { sheet }: Context,
  number: ColumnRule | undefined,
  serial: ColumnRule | undefined,
  date: ColumnRule | undefined,
  repeated: boolean,
): ColumnRule {
  const [numberHeader, serialHeader, dateHeader] = [fromOf(number), fromOf(serial), fromOf(date)];
  const cellsOf = (header: string | null) => {
    const index = header === null ? -1 : sheet.headers.indexOf(header);
    return sheet.rows.map((row) => (row.cells[index] ?? "").trim());
  };
  const numbers = cellsOf(numberHeader);
  const serials = cellsOf(serialHeader);
  const dates = cellsOf(dateHeader);
  if (number !== undefined && numberHeader !== null) {
    const written = numbers.filter((cell) => !isBlank(cell));
    const rare = written.length < numbers.length * 0.9;
    const places = new Set(
      numbers.map((cell, i) => JSON.stringify(repeated ? [cell, serials[i], dates[i]] : [cell, i])),
    );
    const clash = new Set(written).size < places.size * 0.9;
    if (!rare && (!clash || serialHeader === null)) return number;
    const withSerial = new Set(numbers.map((cell, i) => JSON.stringify([serials[i], cell])));
    if (!rare && serialHeader !== null && withSerial.size >= places.size * 0.9) {
      return { join: [serialHeader, numberHeader], separator: " " };
    }
  }
  if (serialHeader === null || dateHeader === null) return number ?? { constant: null };
  return { join: [serialHeader, dateHeader], separator: " " };
}
