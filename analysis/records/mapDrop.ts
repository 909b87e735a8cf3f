import { filledDown } from "./fillDown.ts";
import type { MappedRow, MappedSheet, Mapping, Problem, SheetCells, WordList } from "./mapping.ts";
import { mapRows } from "./mapRows.ts";
import { contradiction, filledUp, sameValues } from "./sameValues.ts";

/** A sheet with the mapping that was confirmed for it. */
export interface ConfirmedSheet {
  readonly sheet: SheetCells;
  readonly mapping: Mapping;
}

/**
 * Turns all sheets of one drop into rows by their confirmed mappings and words. Pure: a rebuild that reads the same
 * bytes with `readSheet(bytes, file, mapping.format)` gets the same rows.
 *
 * Within the result every table and key occurs once. Where two sheets describe the same row, the first one's row is
 * filled with what the second adds; the second line is kept. Where they contradict each other, the later line is set
 * aside with "repeated-key". A row of `addRows` gives way to any sheet that writes the row down.
 *
 * @returns One mapped sheet a sheet given, in the same order.
 */
export function mapDrop({
  sheets,
  words,
  onLines = () => undefined,
}: {
  readonly sheets: readonly ConfirmedSheet[];
  readonly words: WordList;
  /** Told now and then how many lines of all sheets were read. */
  readonly onLines?: (done: number) => void;
}): readonly MappedSheet[] {
  let before = 0;
  const mapped = sheets.map(({ sheet, mapping }) => {
    const rows = mapRows(sheet, mapping, words, (done) => onLines(before + done));
    before += sheet.rows.length;
    return rows;
  });
  const cellsOf = sheets.map(({ sheet, mapping }) => {
    const filled = filledDown(sheet.headers, sheet.rows, mapping.format.fillDown ?? []);
    return new Map(sheet.rows.map(({ line, cells }, index) => [line, filled[index] ?? cells]));
  });
  const taken = new Map<string, MappedRow>();
  const written = mapped.map((sheet, index) => acrossSheets(sheet, cellsOf[index] ?? new Map(), taken));
  const givers = new Set<string>();
  return written.map((sheet) => ({
    ...sheet,
    lines: sheet.lines.map(({ line, rows }) => ({
      line,
      rows: rows.flatMap((row) => {
        const place = placeOf(row);
        if (!row.added) return [taken.get(place) ?? row];
        if (taken.has(place) || givers.has(place)) return [];
        givers.add(place);
        return [row];
      }),
    })),
  }));
}

function acrossSheets(
  sheet: MappedSheet,
  cells: ReadonlyMap<number, readonly string[]>,
  taken: Map<string, MappedRow>,
): MappedSheet {
  const lines: MappedSheet["lines"][number][] = [];
  const setAside = [...sheet.setAside];
  const problems = [...sheet.problems];
  for (const { line, rows } of sheet.lines) {
    const own = rows.filter((row) => !row.added);
    const clashes = own.flatMap((row) => clashOf(taken.get(placeOf(row)), row));
    problems.push(...clashes);
    if (clashes.some((problem) => problem.severity === "error")) {
      const refs = own.map(({ table, key }) => ({ table, key }));
      setAside.push({ line, cells: cells.get(line) ?? [], problems: clashes, rows: refs });
      continue;
    }
    const fresh = own.filter((row) => !taken.has(placeOf(row)));
    for (const row of own) {
      const first = taken.get(placeOf(row));
      taken.set(placeOf(row), first === undefined ? row : filledUp(first, row));
    }
    lines.push({ line, rows: [...fresh, ...rows.filter((row) => row.added)] });
  }
  return { ...sheet, lines, setAside: setAside.sort((a, b) => a.line - b.line), problems };
}

function clashOf(first: MappedRow | undefined, row: MappedRow): readonly Problem[] {
  if (first === undefined) return [];
  const field = contradiction(first.values, row.values);
  if (field === null && sameValues(first.values, row.values) !== null) return [];
  const facts = { table: row.table, key: row.key, firstFile: first.origin.file, firstLine: first.origin.line, field };
  return [
    {
      code: "repeated-key",
      severity: field === null ? "notice" : "error",
      origin: row.origin,
      column: null,
      value: null,
      facts,
    },
  ];
}

const placeOf = (row: MappedRow): string => `${row.table} ${row.key}`;
