import { type Assignment, assignHeaders } from "./assignHeaders.ts";
import { type FieldDescriptor, type TableName, tableDescriptors } from "./descriptor.ts";
import { fingerprintOf } from "./fingerprintOf.ts";
import { type Family, type FamilyName, families } from "./headerTerms.ts";
import { type Mapping, type SheetCells, tabNameHeader, type WordList } from "./mapping.ts";
import { normalisePhrase } from "./normalisePhrase.ts";
import { type OpenFitted, proposeTables } from "./proposeTables.ts";
import { type GuessedUnit, proposeUnits } from "./proposeUnits.ts";
import { type SheetColumn, sheetColumns } from "./sheetColumns.ts";

export interface ProposedMapping {
  readonly mapping: Mapping;
  /** What kind of sheet it was taken for; null where no kind fits, and then the mapping has no tables. */
  readonly family: FamilyName | null;
  /** Why each header was taken for what it became, or was left out. In the order of the sheet. */
  readonly columns: readonly { readonly header: string; readonly why: string }[];
  readonly guessedUnits: readonly GuessedUnit[];
  /** For `proposeAddedRows`. */
  readonly openFitted: Readonly<OpenFitted>;
}

/**
 * Proposes how a sheet becomes rows, from its headers, its cells and its file name. Nothing is certain here: a person
 * confirms it. The kind of sheet whose terms explain most headers wins, if its indispensable columns are there.
 */
export function proposeMapping(sheet: SheetCells, words: WordList): ProposedMapping {
  const columns = sheetColumns(sheet, words);
  const scored = families
    .map((family) => ({ family, ...scoreFamily(columns, family, sheet) }))
    .filter((each) => each.possible)
    .sort((a, b) => b.score - a.score);
  const [best] = scored;
  const base = { version: 1, fingerprint: fingerprintOf(sheet.headers), format: sheet.format, addRows: [] };
  if (best === undefined) {
    return {
      mapping: { ...base, name: "not understood", tables: [] },
      family: null,
      columns: sheet.headers.map((header) => ({ header, why: "The headers fit no kind of sheet known here." })),
      guessedUnits: [],
      openFitted: { byItem: new Map(), listed: null },
    };
  }
  const { units, guessed } = proposeUnits(best.assignments, sheet.format.decimal);
  const { tables, left, openFitted } = proposeTables(best.assignments, units, columns, sheet);
  return {
    mapping: { ...base, name: best.family.name, tables },
    family: best.family.name,
    columns: columns.map((column) => ({ header: column.header, why: whyOf(column, best.assignments, left, guessed) })),
    guessedUnits: guessed,
    openFitted,
  };
}

function scoreFamily(columns: readonly SheetColumn[], family: Family, sheet: SheetCells) {
  const assignments = withTabName(assignHeaders(columns.filter(isOwn), family), columns, family);
  const has = (table: string, ...fields: readonly string[]) =>
    fields.some((field) => assignments.some((each) => each.table === table && each.field === field));
  const named = normalisePhrase(sheet.file.replace(/^.*[\\/]/, "").replace(/\.\w+$/, "")).split(" ");
  const hint = named.some((word) => family.fileWords.includes(word)) ? 4 : 0;
  const score = assignments.reduce((sum, each) => sum + each.score, hint);
  return { assignments, score, possible: isPossible(family.name, has, assignments) };
}

const isOwn = ({ header }: SheetColumn): boolean => header !== tabNameHeader;

/** Names that programs give to tabs, which say nothing. */
const namelessTab = /^\p{L}{3,8}\s*\d{1,3}$/iu;
const emptyWords = /^(?:sheet|tabelle|feuil|feuille|hoja|blad|foglio|planilha|ark|list|tab)\s*\d*$/i;

/** One tab a tool: where no column holds the serial, the name of the tab does, if it looks like a serial. */
function withTabName(
  assignments: readonly Assignment[],
  columns: readonly SheetColumn[],
  family: Family,
): readonly Assignment[] {
  const tab = columns.find((column) => !isOwn(column));
  const name = tab?.cells[0] ?? "";
  const isSerial = /\d/.test(name) && !emptyWords.test(name) && !(namelessTab.test(name) && /\s/.test(name));
  if (tab === undefined || !isSerial || assignments.some(({ field }) => field === "serial")) return assignments;
  const tables = Object.entries(family.tables).filter(([, terms]) => Object.hasOwn(terms, "serial"));
  return [
    ...assignments,
    ...tables.map(([table]) => ({ column: tab, table: table as TableName, field: "serial", members: [], score: 1 })),
  ];
}

type Has = (table: string, ...fields: readonly string[]) => boolean;

function isPossible(family: FamilyName, has: Has, assignments: readonly Assignment[]): boolean {
  switch (family) {
    case "runs":
      return (
        has("runs", "serial") && has("runs", "out_on") && has("runs", "hours", "in_on", "pulled_because", "well", "rig")
      );
    case "builds": {
      const link = has("redresses", "redress") || (has("redresses", "serial") && has("redresses", "done_on"));
      const parts = assignments.some((each) => each.table === "joints" || each.table === "fitted_items");
      return link && (parts || has("redresses", "reason", "technician", "pressure_test"));
    }
    case "teardowns": {
      const link = has("teardowns", "teardown") || (has("teardowns", "serial") && has("teardowns", "done_on"));
      return link && (has("findings", "condition") || has("teardowns", "why", "kind", "scope"));
    }
    case "tools": {
      const serials = assignments.find((each) => each.field === "serial")?.column.cells ?? [];
      const once = new Set(serials).size >= serials.length * 0.95;
      return has("tools", "serial") && once && has("tools", "tool_type", "size_in", "status", "location", "entered_on");
    }
    case "tool items":
      return has("tool_items", "item") && has("tool_items", "kind", "position", "design_torque_Nm", "kit", "aliases");
    case "modes":
      return has("modes", "item") && has("modes", "mode") && has("modes", "announces", "threshold", "restored_by");
    case "compounds":
      return has("compounds", "compound") && has("compounds", "friction_factor");
  }
}

function whyOf(
  column: SheetColumn,
  assignments: readonly Assignment[],
  left: ReadonlyMap<string, string>,
  guessed: readonly GuessedUnit[],
): string {
  if (!isOwn(column) && assignments.some((each) => each.column === column))
    return "No column holds the serial, and the tab's name looks like one.";
  const reason = left.get(column.header);
  if (reason !== undefined) return reason;
  const assigned = assignments.find((each) => each.column === column);
  if (assigned === undefined) return "No field for this header; the cells stay with the row as written.";
  const fields: readonly FieldDescriptor[] = tableDescriptors[assigned.table].fields;
  const title =
    assigned.field === "list"
      ? "the items renewed"
      : fields.find((each) => each.name === assigned.field)?.title.toLowerCase();
  const of =
    assigned.members.length === 0
      ? ""
      : ` of ${assigned.members.map((member) => member.replace("#", "finding ")).join(", ")}`;
  const hasUnit = fields.find((each) => each.name === assigned.field)?.unit !== undefined;
  const guess = guessed.find((each) => each.header === column.header);
  const unit =
    guess !== undefined ? ` ${guess.why}` : column.unit !== null && hasUnit ? ` The header says ${column.unit}.` : "";
  const how = assigned.score >= 2.8 ? "A usual name for" : assigned.score <= 0.8 ? "By its cells," : "Reads like";
  return `${how} ${title}${of}.${unit}`;
}
