import { dateParts } from "./parseDate.ts";
import { decideHeaderRow } from "./sheetShape.ts";
import { unitOf } from "./units.ts";

/** Cells of one written line; `spans` holds the last column of a cell that is merged over several. */
export interface WrittenLine {
  readonly line: number;
  readonly cells: readonly string[];
  readonly spans?: ReadonlyMap<number, number>;
}

/** Where the headers of a sheet stand: index of their first line among the written lines, and how many lines they take. */
export interface HeaderLines {
  readonly first: number;
  readonly lines: 1 | 2;
}

/**
 * Decides which lines hold the headers. Two lines where the upper one groups the lower ("Torque" over "J1", "J2", "J3",
 * by a merged cell or by blanks to its right), or where the lower holds nothing but units. A title above the headers
 * is no group: it stands alone at the left, or spans everything.
 *
 * @returns  `{ first: 0, lines: 1 }` where nothing better is found.
 */
export function decideHeaderLines(rows: readonly WrittenLine[]): HeaderLines {
  const found = decideHeaderRow(rows.map(({ cells }) => cells));
  const [above, header, below] = [rows[found - 1], rows[found], rows[found + 1]];
  if (header === undefined) return { first: found, lines: 1 };
  if (above !== undefined && above.line + 1 === header.line && isGrouping(above, header))
    return { first: found - 1, lines: 2 };
  const isNext = below !== undefined && header.line + 1 === below.line && rows.length > found + 2;
  if (isNext && (isUnitLine(header, below) || isGrouping(header, below))) return { first: found, lines: 2 };
  return { first: found, lines: 1 };
}

/** The headers of one or two lines: "Torque" over "J1" is "Torque J1", "Hours" over "h" is "Hours (h)". */
export function joinHeaders(upper: WrittenLine, lower: WrittenLine | null): readonly string[] {
  if (lower === null) return upper.cells.map(plain);
  const width = Math.max(upper.cells.length, lower.cells.length);
  const units = isUnitLine(upper, lower);
  const group = units ? [] : groupsOf(upper, lower);
  return Array.from({ length: width }, (_, column) => {
    const own = plain(upper.cells[column]);
    const below = plain(lower.cells[column]);
    if (units) return below === "" || own === "" ? own : `${own} (${withoutBrackets(below)})`;
    const above = own !== "" ? own : plain(upper.cells[group[column] ?? -1]);
    return [above, below].filter((part) => part !== "").join(" ");
  });
}

const plain = (cell: string | undefined): string => (cell ?? "").replace(/\s+/g, " ").trim();
const withoutBrackets = (cell: string): string => cell.replace(/^[([]\s*(.*?)\s*[)\]]$/, "$1");
/** "J1" and "J2" have one shape. */
const shapeOf = (cell: string): string => cell.toLowerCase().replace(/\d+/g, "0");
const isWord = (cell: string): boolean =>
  /\p{L}/u.test(cell) && !/^[-+]?\d+[.,]\d/.test(cell) && dateParts(cell) === null;

function isUnitLine(upper: WrittenLine, lower: WrittenLine): boolean {
  const written = lower.cells.flatMap((cell, column) => (plain(cell) === "" ? [] : [{ cell: plain(cell), column }]));
  return (
    written.length > 0 &&
    written.every(({ cell, column }) => unitOf(withoutBrackets(cell)) !== null && plain(upper.cells[column]) !== "")
  );
}

/**
 * For each column the column of the upper cell that stands over it, or -1. A merged cell stands over its own columns; any
 * other reaches over the blanks to its right, but only as far as the cells below keep one shape where the first two do.
 */
function groupsOf(upper: WrittenLine, lower: WrittenLine): readonly number[] {
  const width = Math.max(upper.cells.length, lower.cells.length);
  const groups = Array.from({ length: width }, () => -1);
  for (let start = 0; start < width; start++) {
    if (plain(upper.cells[start]) === "") continue;
    const end = upper.spans?.get(start) ?? reachOf(start, upper, lower, width);
    for (let column = start; column <= Math.min(end, width - 1); column++) groups[column] = start;
  }
  return groups;
}

function reachOf(start: number, upper: WrittenLine, lower: WrittenLine, width: number): number {
  const below = (column: number) => plain(lower.cells[column]);
  const shape =
    below(start) !== "" && shapeOf(below(start)) === shapeOf(below(start + 1)) ? shapeOf(below(start)) : null;
  let end = start;
  while (end + 1 < width && plain(upper.cells[end + 1]) === "" && below(end + 1) !== "") {
    if (below(start) === "" || (shape !== null && shapeOf(below(end + 1)) !== shape)) break;
    end++;
  }
  return end;
}

function isGrouping(upper: WrittenLine, lower: WrittenLine): boolean {
  const above = upper.cells.map(plain);
  const below = lower.cells.map(plain);
  const everything = [...above, ...below].filter((cell) => cell !== "");
  if (!everything.every(isWord)) return false;
  const groups = groupsOf(upper, lower);
  const members = new Map<number, number[]>();
  groups.forEach((start, column) => {
    if (start >= 0) members.set(start, [...(members.get(start) ?? []), column]);
  });
  let real = 0;
  for (const [start, columns] of members) {
    const named = columns.filter((column) => (below[column] ?? "") !== "");
    // A header of its own on the upper line has nothing below it.
    if (columns.length === 1 && named.length === 1) return false;
    if (columns.length > 1 && named.length < 2 && !upper.spans?.has(start)) return false;
    if (named.length > 1) real++;
  }
  const writtenBelow = below.flatMap((cell, column) => (cell === "" ? [] : [column]));
  const [first] = members.keys();
  const alone =
    members.size === 1 && (first === writtenBelow[0] || writtenBelow.every((column) => groups[column] === first));
  return real > 0 && !alone;
}
