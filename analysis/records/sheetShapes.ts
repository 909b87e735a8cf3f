import { fingerprintOf } from "./fingerprintOf.ts";
import type { SheetCells, WordList } from "./mapping.ts";
import { type ProposedMapping, proposeMapping } from "./proposeMapping.ts";

/** What is proposed for all sheets of a drop that have the same headers. */
export interface SheetShape {
  /** The lines of all of them, as one sheet. */
  readonly pool: SheetCells;
  readonly proposal: () => ProposedMapping;
  /** Columns in which a blank seems to mean "as above" on any of the sheets. */
  readonly fillDown: readonly string[];
}

/**
 * Takes sheets of one shape together (one tab a tool), so that one mapping is proposed for all of them, from the cells
 * of all of them: a tab with three lines says little by itself, and two mappings for one shape could not both be
 * remembered.
 */
export function sheetShapes(sheets: readonly SheetCells[], words: WordList): (sheet: SheetCells) => SheetShape {
  const alike = new Map<string, SheetCells[]>();
  for (const sheet of sheets) {
    const fingerprint = fingerprintOf(sheet.headers);
    const known = alike.get(fingerprint);
    if (known === undefined) alike.set(fingerprint, [sheet]);
    else known.push(sheet);
  }
  const shapes = new Map<string, SheetShape>();
  return (sheet) => {
    const fingerprint = fingerprintOf(sheet.headers);
    const shape = shapes.get(fingerprint) ?? shapeOf(alike.get(fingerprint) ?? [], sheet, words);
    shapes.set(fingerprint, shape);
    return shape;
  };
}

function shapeOf(sheets: readonly SheetCells[], sheet: SheetCells, words: WordList): SheetShape {
  const [first = sheet, ...others] = sheets;
  const pool = others.length === 0 ? first : pooled(first, others);
  let proposed: ProposedMapping | null = null;
  const proposal = (): ProposedMapping => {
    proposed ??= proposeMapping(pool, words);
    return proposed;
  };
  return { pool, proposal, fillDown: [...new Set(sheets.flatMap(({ format }) => format.fillDown ?? []))] };
}

/** The first sheet with the lines of those whose columns stand in the same order. */
function pooled(first: SheetCells, others: readonly SheetCells[]): SheetCells {
  const same = others.filter(
    ({ headers }) =>
      headers.length === first.headers.length && headers.every((header, i) => header === first.headers[i]),
  );
  const dateOrder = Object.fromEntries([...same, first].flatMap(({ format }) => Object.entries(format.dateOrder)));
  return {
    ...first,
    format: { ...first.format, dateOrder },
    rows: [first, ...same].flatMap(({ rows }) => rows),
  };
}
