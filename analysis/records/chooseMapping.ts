import { type DateColumn, decideDateOrders } from "./decideDateOrders.ts";
import type { DropInput, SheetReading } from "./drop.ts";
import { fingerprintOf } from "./fingerprintOf.ts";
import { type DateOrder, type Mapping, nameOfSheet, type SheetCells, type SheetFormat } from "./mapping.ts";
import type { ProposedMapping } from "./proposeMapping.ts";
import { decidedDecimal } from "./sheetShape.ts";
import type { SheetShape } from "./sheetShapes.ts";

/** The mapping under which a sheet of the drop is read, and how it was found. */
export interface ChosenMapping {
  readonly mapping: Mapping;
  readonly mappingIs: SheetReading["mappingIs"];
  /** Present where nothing was remembered and nobody edited. */
  readonly proposal: ProposedMapping | null;
  /** Date columns of which nothing decides the order. */
  readonly assumedDates: readonly DateColumn[];
  /** Columns in which a blank seems to mean "as above", where nobody was asked yet. */
  readonly newlyFilled: readonly string[];
}

/**
 * Finds the mapping of a sheet: edited by hand in this drop, remembered by fingerprint, or proposed for its shape. The format is the
 * sheet's own, but what was confirmed before is kept where its cells leave a date order or the decimal sign open, and
 * in which columns a blank means "as above" is not asked again for columns that were answered.
 */
export function chooseMapping(
  sheet: SheetCells,
  input: Pick<DropInput, "remembered" | "answers">,
  { proposal: propose, fillDown }: SheetShape,
): ChosenMapping {
  const dates = decideDateOrders(sheet.headers, sheet.rows);
  const assumed = dates.filter((column) => column.because === "assumed");
  const edited = editedMapping(sheet, input.answers.mappings ?? {});
  if (edited !== undefined)
    return { mapping: edited, mappingIs: "edited", proposal: null, assumedDates: [], newlyFilled: [] };
  const fingerprint = fingerprintOf(sheet.headers);
  const remembered = newest(input.remembered.filter((mapping) => mapping.fingerprint === fingerprint));
  if (remembered !== null) {
    const format = keptFormat(sheet, remembered.format, assumed);
    const answered = remembered.format.fillDown;
    const newlyFilled = answered === undefined ? (sheet.format.fillDown ?? []) : [];
    const open = assumed.filter((column) => settledOrder(remembered.format, column.header) === undefined);
    return {
      mapping: { ...remembered, format },
      mappingIs: "remembered",
      proposal: null,
      assumedDates: open,
      newlyFilled,
    };
  }
  const proposal = propose();
  const mappingIs = proposal.family === null ? "not understood" : "proposed";
  const format = fillDown.length === 0 ? sheet.format : { ...sheet.format, fillDown };
  return {
    mapping: { ...proposal.mapping, format },
    mappingIs,
    proposal,
    assumedDates: assumed,
    newlyFilled: fillDown,
  };
}

/** Edited by the name of the tab, or by that of the file for those of its tabs that have the mapping's headers. */
function editedMapping(sheet: SheetCells, edits: Readonly<Record<string, Mapping>>): Mapping | undefined {
  const own = nameOfSheet(sheet);
  if (Object.hasOwn(edits, own)) return edits[own];
  const ofFile = Object.hasOwn(edits, sheet.file) ? edits[sheet.file] : undefined;
  return ofFile?.fingerprint === fingerprintOf(sheet.headers) ? ofFile : undefined;
}

const newest = (mappings: readonly Mapping[]): Mapping | null =>
  mappings.reduce<Mapping | null>((best, each) => (best === null || each.version > best.version ? each : best), null);

/**
 * The order in which day and month were confirmed. Year first settles nothing: it is what dates are given that name
 * their own order, and says nothing of a column that changed to dates that do not.
 */
function settledOrder({ dateOrder }: SheetFormat, header: string): DateOrder | undefined {
  const order = Object.hasOwn(dateOrder, header) ? dateOrder[header] : undefined;
  return order === "ymd" ? undefined : order;
}

function keptFormat(sheet: SheetCells, remembered: SheetFormat, assumed: readonly DateColumn[]): SheetFormat {
  const { format } = sheet;
  const open = new Set(assumed.map((column) => column.header));
  const decided = Object.entries(format.dateOrder).map(([header, found]) => [
    header,
    open.has(header) ? (settledOrder(remembered, header) ?? found) : found,
  ]);
  const fillDown = remembered.fillDown ?? format.fillDown;
  return {
    ...format,
    decimal: decimalOf(sheet, remembered),
    dateOrder: Object.fromEntries([...Object.entries(remembered.dateOrder), ...decided]),
    ...(fillDown === undefined ? {} : { fillDown }),
  };
}

/** Of a workbook always the sheet's own: its numbers were written out with that sign. */
function decimalOf({ sheet, format, rows }: SheetCells, remembered: SheetFormat): SheetFormat["decimal"] {
  if (sheet !== null || format.decimal === remembered.decimal) return format.decimal;
  return decidedDecimal(cellsOf(rows)) ?? remembered.decimal;
}

function* cellsOf(rows: SheetCells["rows"]): Iterable<string> {
  for (const { cells } of rows) yield* cells;
}

/**
 * Numbers the mappings of a drop so that one fingerprint and version always name one content: a mapping that equals
 * a remembered one keeps its number, any other gets the next.
 */
export function numbered(mappings: readonly Mapping[], remembered: readonly Mapping[]): readonly Mapping[] {
  const known = [...remembered];
  return mappings.map((mapping) => {
    const same = known.filter((each) => each.fingerprint === mapping.fingerprint);
    const equal = same.find((each) => contentOf(each) === contentOf(mapping));
    if (equal !== undefined) return equal;
    const version = Math.max(0, ...same.map((each) => each.version)) + 1;
    const fresh = { ...mapping, version };
    known.push(fresh);
    return fresh;
  });
}

/** The mapping without its number, as text in which the order of keys does not matter. */
const contentOf = (mapping: Mapping): string =>
  JSON.stringify({ ...mapping, version: 0 }, (_, value: unknown) =>
    value !== null && typeof value === "object" && !Array.isArray(value)
      ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
      : value,
  );
