import { type RowRef, type TableName, tableDescriptors } from "./descriptor.ts";
import type { DropInput, DropReading, GoneRow, MissingRows, StoredValues } from "./drop.ts";
import {
  type Confirmation,
  type MappedSheet,
  type Mapping,
  nameOfSheet,
  type Origin,
  tabNameHeader,
} from "./mapping.ts";
import { shapeId } from "./shapeId.ts";

/** The share of the earlier keys that must still be there before a sheet counts as an earlier one, grown. */
const neededShare = 0.8;
/** More than this is no sheet with a few rows taken out. */
const mostMissing = 5_000;

type MappedUnder = readonly { readonly mapped: MappedSheet; readonly mapping: Mapping }[];

/**
 * Stored rows of the tables that a shape of sheet gives, which no sheet of the drop holds, not even on a line set aside.
 * Candidates only: whether they came from such a sheet, `withGone` finds from where they were written.
 */
export function missingRows(
  sheets: MappedUnder,
  headersOf: readonly (readonly string[])[],
  stored: readonly StoredValues[],
): readonly MissingRows[] {
  const there = new Set<string>();
  for (const { mapped } of sheets) {
    for (const { rows } of mapped.lines) for (const row of rows) there.add(placeOf(row));
    for (const { rows = [] } of mapped.setAside) for (const row of rows) there.add(placeOf(row));
  }
  const storedPlaces = new Set(stored.map(placeOf));
  const found: MissingRows[] = [];
  for (const fingerprint of new Set(sheets.map(({ mapping }) => mapping.fingerprint))) {
    const own = sheets.flatMap((sheet, index) =>
      sheet.mapping.fingerprint === fingerprint ? [{ ...sheet, index }] : [],
    );
    const tables = new Set<TableName>(own.flatMap(({ mapping }) => mapping.tables.map(({ table }) => table)));
    const held = new Set<string>();
    for (const { mapped } of own)
      for (const { rows } of mapped.lines)
        for (const row of rows) if (tables.has(row.table) && storedPlaces.has(placeOf(row))) held.add(placeOf(row));
    if (held.size === 0) continue;
    const missing = stored.filter((row) => tables.has(row.table) && !there.has(placeOf(row)));
    if (missing.length === 0 || missing.length > mostMissing) continue;
    found.push({
      sheet: own[0]?.index ?? 0,
      fingerprint,
      headers: headersOf[own[0]?.index ?? 0] ?? [],
      held: held.size,
      rows: missing.map(({ table, key }) => ({ table, key })),
    });
  }
  return found;
}

/** A stored row with where it was written. */
export interface WrittenRow extends RowRef {
  readonly asWritten: Readonly<Record<string, string>>;
  readonly origin: Origin;
}

/**
 * Adds the rows that earlier sheets of the same shape held and this drop does not, and asks about them. Only where the
 * sheet is plainly an earlier one, grown: four in five of the earlier keys are still there. Nothing is deleted; what is
 * confirmed is that the rows stay.
 *
 * @param written  Stored rows among `reading.missing`; one counts where all its cells stood under headers of the sheet.
 */
export function withGone(
  reading: DropReading,
  written: readonly WrittenRow[],
  answers: DropInput["answers"],
): DropReading {
  const byPlace = new Map(written.map((row) => [placeOf(row), row]));
  const gone = new Map<number, readonly GoneRow[]>();
  const asked: Confirmation[] = [];
  for (const { sheet, fingerprint, headers, held, rows } of reading.missing) {
    const known = new Set([...headers, tabNameHeader]);
    const own = rows.flatMap((row): GoneRow[] => {
      const stored = byPlace.get(placeOf(row));
      const cells = Object.keys(stored?.asWritten ?? {});
      const isOfShape = cells.length > 0 && cells.every((header) => known.has(header));
      return stored === undefined || !isOfShape ? [] : [{ row, origin: stored.origin }];
    });
    const first = reading.files[sheet];
    if (own.length === 0 || held / (held + own.length) < neededShare || first === undefined) continue;
    gone.set(sheet, own);
    asked.push(confirmationOf(own, held, nameOfSheet(first), fingerprint, answers));
  }
  if (gone.size === 0) return reading;
  const confirmations = [...reading.confirmations, ...asked];
  return {
    ...reading,
    files: reading.files.map((file, index) => ({ ...file, gone: gone.get(index) ?? file.gone })),
    confirmations,
    ready: reading.ready && asked.every(({ answered }) => answered),
  };
}

function confirmationOf(
  own: readonly GoneRow[],
  held: number,
  name: string,
  fingerprint: string,
  { confirm = [] }: DropInput["answers"],
): Confirmation {
  const keys = JSON.stringify(own.map(({ row }) => placeOf(row)).sort());
  const id = `gone:${shapeId(fingerprint)}:${shapeId(keys)}`;
  const tables = [...new Set(own.map(({ row }) => tableDescriptors[row.table].title.toLowerCase()))];
  const count = own.length === 1 ? "One stored row" : `${own.length} stored rows`;
  const first = own[0]?.origin;
  return {
    id,
    kind: "gone",
    question: `${count} of ${tables.join(", ")} that an earlier sheet of this shape held ${own.length === 1 ? "is" : "are"} not in ${name}. Keep ${own.length === 1 ? "it" : "them"}?`,
    why: `${held} rows of the earlier sheets are still there, so this one is taken for them, grown.${first === undefined ? "" : ` The first one gone stood in ${nameOfSheet(first)}, line ${first.line}.`}`,
    proposed:
      "Nothing is deleted: what was stored stays. A row that should not count is excluded by an answer, with a reason.",
    answered: confirm.includes(id),
  };
}

const placeOf = ({ table, key }: RowRef): string => `${table} ${key}`;
