import { canonicalItem } from "./canonicalItem.ts";
import { type FieldDescriptor, type TableName, tableDescriptors } from "./descriptor.ts";
import { type Family, type FieldTerms, renewedListTerms } from "./headerTerms.ts";
import { itemKind } from "./itemKind.ts";
import { matchTerms, withoutTerm } from "./matchTerm.ts";
import { columnFits, type SheetColumn } from "./sheetColumns.ts";

/** What one header was taken for. */
export interface Assignment {
  readonly column: SheetColumn;
  readonly table: TableName;
  readonly field: string;
  /** The items or joints a column of its own stands for; "#1" for numbered blocks; empty for an ordinary column. */
  readonly members: readonly string[];
  readonly score: number;
}

/**
 * Takes each header for the field it matches best, within one kind of sheet: ordinary columns first (each field once,
 * the best match first), then columns that belong to one joint or item ("Torque J1", "Main seal lot", "J1").
 */
export function assignHeaders(columns: readonly SheetColumn[], family: Family): readonly Assignment[] {
  const groups = columns.flatMap((column) => groupOf(column, family));
  const grouped = new Set(groups.map((group) => group.column));
  const candidates = columns
    .filter((column) => !grouped.has(column) && column.joints.length === 0)
    .flatMap((column) => plainCandidates(column, family))
    .sort((a, b) => b.score - a.score);
  const plain: Assignment[] = [];
  const usedFields = new Set<string>();
  const usedColumns = new Set<SheetColumn>();
  for (const candidate of candidates) {
    const place = `${candidate.table} ${candidate.field}`;
    if (usedFields.has(place) || usedColumns.has(candidate.column)) continue;
    usedFields.add(place);
    usedColumns.add(candidate.column);
    plain.push(candidate);
  }
  const rest = columns.filter((column) => !grouped.has(column) && !usedColumns.has(column));
  return [...plain, ...groups, ...rest.flatMap((column) => itemColumn(column, family))];
}

const fieldOf = (table: TableName, name: string): FieldDescriptor | undefined =>
  (tableDescriptors[table].fields as readonly FieldDescriptor[]).find((field) => field.name === name);

function plainCandidates(column: SheetColumn, family: Family): readonly Assignment[] {
  const words = column.number === null ? column.words : [...column.words, String(column.number)];
  const found: Assignment[] = [];
  for (const [table, terms] of tablesOf(family)) {
    for (const [name, phrases] of Object.entries(terms)) {
      const field = fieldOf(table, name);
      const score = Math.max(matchTerms(words, phrases), matchTerms(column.allWords, phrases));
      // "Report in" is no report in inches: where only all words match, the last of them is no unit.
      const unitless = matchTerms(words, phrases) < score ? { ...column, unit: null } : column;
      if (field === undefined || score === 0 || !(columnFits(column, field) || columnFits(unitless, field))) continue;
      found.push({
        column,
        table,
        field: name,
        members: [],
        score: score + (field.unit !== undefined && column.unit !== null ? 0.3 : 0),
      });
    }
  }
  if (family.name === "builds" && column.yesNo < 0.5 && column.numbers < 0.5 && !column.isDate) {
    const score = matchTerms(words, renewedListTerms);
    if (score > 0) found.push({ column, table: "fitted_items", field: "list", members: [], score: score + 0.1 });
  }
  return found;
}

const tablesOf = (family: Family): readonly (readonly [TableName, FieldTerms])[] =>
  Object.entries(family.tables) as [TableName, FieldTerms][];

/** A column of one joint ("Torque J1"), of several ("Torque J1-J4"), of a numbered block ("Torque 2", "Item 2"). */
function groupOf(column: SheetColumn, family: Family): readonly Assignment[] {
  const inGroups: readonly TableName[] =
    family.name === "builds" ? ["joints", "fitted_items"] : family.name === "teardowns" ? ["findings"] : [];
  if (column.joints.length > 0) {
    for (const table of inGroups) {
      const best = bestField(column, table, column.words, family);
      if (best !== null) return [{ column, table, ...best, members: column.joints }];
    }
    return inGroups.length > 0 && column.words.length === 0 ? bareMember(column, family, column.joints) : [];
  }
  if (column.number !== null) {
    const table = family.name === "builds" ? "joints" : "findings";
    if (!inGroups.includes(table)) return [];
    const best = bestField(column, table, column.words, family);
    const member = table === "joints" ? `J${column.number}` : `#${column.number}`;
    return best === null || best.field === "joint" ? [] : [{ column, table, ...best, members: [member] }];
  }
  return itemGroup(column, inGroups, family);
}

function bestField(
  column: SheetColumn,
  table: TableName,
  words: readonly string[],
  family: Family,
): { readonly field: string; readonly score: number } | null {
  if (table === "joints" && words.join(" ") === "new" && column.yesNo > 0.4) return { field: "new_thread", score: 2 };
  let best: { readonly field: string; readonly score: number } | null = null;
  for (const [name, phrases] of Object.entries(family.tables[table] ?? {})) {
    const field = fieldOf(table, name);
    const score = matchTerms(words, phrases);
    if (field !== undefined && score > (best?.score ?? 0) && columnFits(column, field)) best = { field: name, score };
  }
  return best;
}

/** "Main seal lot", "Lot main seal": a field's term with an item's name before or behind it. */
function itemGroup(column: SheetColumn, inGroups: readonly TableName[], family: Family): readonly Assignment[] {
  const table = inGroups.includes("fitted_items") ? "fitted_items" : inGroups.includes("findings") ? "findings" : null;
  if (table === null) return [];
  const found = Object.entries(family.tables[table] ?? {}).flatMap(([name, phrases]) => {
    const field = fieldOf(table, name);
    const terms = name === "item_serial" ? [...phrases, "no", "number", "id"] : phrases;
    const rest = name === "item" ? null : (withoutTerm(column.words, terms) ?? withoutTerm(column.allWords, terms));
    if (field === undefined || rest === null || itemKind(rest.join(" ")) === null || !columnFits(column, field))
      return [];
    return [{ field: name, rest }];
  });
  const [best] = found.sort((a, b) => a.rest.length - b.rest.length);
  if (best === undefined) return [];
  return [{ column, table, field: best.field, members: [canonicalItem(best.rest.join(" "))], score: 2 }];
}

/** A column named by nothing but an item: what its cells hold says which field it is. */
function itemColumn(column: SheetColumn, family: Family): readonly Assignment[] {
  if (column.joints.length > 0 || column.words.length === 0 || column.number !== null) return [];
  const name = column.words.join(" ");
  const named = itemKind(name) !== null;
  const mostlyConditions = column.conditions > 0.6 && column.cells.length > 2;
  if (!named && !mostlyConditions) return [];
  return bareMember(column, family, [canonicalItem(name)]);
}

function bareMember(column: SheetColumn, family: Family, members: readonly string[]): readonly Assignment[] {
  const is = (table: TableName, field: string): readonly Assignment[] => [
    { column, table, field, members, score: 0.8 },
  ];
  if (column.cells.length === 0 || column.isDate) return [];
  if (family.name === "builds") {
    if (column.yesNo > 0.5 && column.numbers < 0.5) return is("fitted_items", "renewed");
    const joint = members.every((member) => itemKind(member) === "joint");
    return joint && column.numbers > 0.3 ? is("joints", "final_torque_Nm") : [];
  }
  if (family.name !== "teardowns") return [];
  if (column.unit !== null && column.numbers > 0.3) return is("findings", "breakout_torque_Nm");
  return column.numbers < 0.5 ? is("findings", "condition") : [];
}
