import { type DateColumn, decideDateOrders } from "./decideDateOrders.ts";
import type { DropInput, SheetReading } from "./drop.ts";
import { fingerprintOf } from "./fingerprintOf.ts";
import type { DateOrder, Mapping, SheetCells, SheetFormat, WordList } from "./mapping.ts";
import { type ProposedMapping, proposeMapping } from "./proposeMapping.ts";

/** The mapping under which a sheet of the drop is read, and how it was found. */
export interface ChosenMapping {
  readonly mapping: Mapping;
  readonly mappingIs: SheetReading["mappingIs"];
  /** Present where nothing was remembered and nobody edited. */
  readonly proposal: ProposedMapping | null;
  /** Date columns of which nothing decides the order. */
  readonly assumedDates: readonly DateColumn[];
}

/**
 * Finds the mapping of a sheet: edited by hand in this drop, remembered by fingerprint, or proposed. The format is the
 * sheet's own in every case but one: where its cells leave a date order open, the order confirmed before is kept.
 */
export function chooseMapping(
  sheet: SheetCells,
  input: Pick<DropInput, "remembered" | "answers">,
  words: WordList,
): ChosenMapping {
  const dates = decideDateOrders(sheet.headers, sheet.rows);
  const assumed = dates.filter((column) => column.because === "assumed");
  const edits = input.answers.mappings ?? {};
  const edited = Object.hasOwn(edits, sheet.file) ? edits[sheet.file] : undefined;
  if (edited !== undefined) return { mapping: edited, mappingIs: "edited", proposal: null, assumedDates: [] };
  const fingerprint = fingerprintOf(sheet.headers);
  const remembered = newest(input.remembered.filter((mapping) => mapping.fingerprint === fingerprint));
  if (remembered !== null) {
    const format = keptFormat(sheet.format, remembered.format, assumed);
    const open = assumed.filter((column) => !Object.hasOwn(remembered.format.dateOrder, column.header));
    return { mapping: { ...remembered, format }, mappingIs: "remembered", proposal: null, assumedDates: open };
  }
  const proposal = proposeMapping(sheet, words);
  const mappingIs = proposal.family === null ? "not understood" : "proposed";
  return { mapping: proposal.mapping, mappingIs, proposal, assumedDates: assumed };
}

const newest = (mappings: readonly Mapping[]): Mapping | null =>
  mappings.reduce<Mapping | null>((best, each) => (best === null || each.version > best.version ? each : best), null);

function keptFormat(format: SheetFormat, remembered: SheetFormat, assumed: readonly DateColumn[]): SheetFormat {
  const open = new Set(assumed.map((column) => column.header));
  const order = (header: string): DateOrder | undefined =>
    Object.hasOwn(remembered.dateOrder, header) ? remembered.dateOrder[header] : undefined;
  const decided = Object.entries(format.dateOrder).map(([header, found]) => [
    header,
    open.has(header) ? (order(header) ?? found) : found,
  ]);
  return { ...format, dateOrder: Object.fromEntries([...Object.entries(remembered.dateOrder), ...decided]) };
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
