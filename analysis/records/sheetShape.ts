import { dateParts } from "./parseDate.ts";
import { parseNumber } from "./parseNumber.ts";

export type Delimiter = "," | ";" | "\t" | "|";
const delimiters: readonly Delimiter[] = [",", ";", "\t", "|"];
const linesLookedAt = 400;

/**
 * The first lines of a text, where a quoted cell that goes on over line ends keeps its lines together. A quote opens
 * a cell only at the beginning of a line or behind a delimiter. One that never closes joins nothing.
 */
export function logicalLines(text: string, most = 2000): readonly string[] {
  const physical = text.split(/\r\n|\n|\r/, most * 2);
  const lines: string[] = [];
  let open: string[] = [];
  for (const line of physical) {
    const before = open.length > 0;
    if (!before && /^(#|\/\/|%)/.test(line)) {
      lines.push(line);
      continue;
    }
    open.push(line);
    if (!isOpenAfter(line, before)) {
      lines.push(open.join("\n"));
      open = [];
    }
  }
  return [...lines, ...open].slice(0, most);
}

/** Whether a quoted cell is open at the end of a line. */
function isOpenAfter(line: string, openBefore: boolean): boolean {
  let quoted = openBefore;
  for (let i = 0; i < line.length; i++) {
    if (line[i] !== '"') continue;
    if (!quoted) quoted = i === 0 || /[,;\t|]\s*$/.test(line.slice(Math.max(0, i - 3), i));
    else if (line[i + 1] === '"') i++;
    else quoted = false;
  }
  return quoted;
}

/**
 * Decides what separates the cells: the candidate that cuts most lines into the same number of cells, two or more.
 * Where several do so equally well, the one that cuts more. Delimiters inside quotes do not count. A sheet that no
 * candidate cuts is one column wide; it gets a comma.
 *
 * @param lines  Lines of the file, without comments; blank ones are ignored.
 */
export function decideDelimiter(lines: readonly string[]): Delimiter {
  const sample = lines.filter((line) => line.trim() !== "").slice(0, linesLookedAt);
  let best: { readonly delimiter: Delimiter; readonly score: number } = { delimiter: ",", score: 0 };
  for (const delimiter of delimiters) {
    const { width, share } = commonWidth(sample.map((line) => cellCount(line, delimiter)));
    const score = width < 2 ? 0 : share + Math.min(width, 40) / 1000;
    if (score > best.score) best = { delimiter, score };
  }
  return best.delimiter;
}

/** The most frequent number of cells a line, and the share of lines that have it. Ties go to the wider. */
export function commonWidth(counts: readonly number[]): { readonly width: number; readonly share: number } {
  const tally = new Map<number, number>();
  for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1);
  let width = 0;
  for (const [count, times] of tally) {
    const most = tally.get(width) ?? 0;
    if (times > most || (times === most && count > width)) width = count;
  }
  return { width, share: counts.length === 0 ? 0 : (tally.get(width) ?? 0) / counts.length };
}

export function cellCount(line: string, delimiter: Delimiter): number {
  let count = 1;
  let quoted = false;
  let atStart = true;
  for (const sign of line) {
    if (sign === '"' && (atStart || quoted)) quoted = !quoted;
    else if (sign === delimiter && !quoted) count++;
    atStart = sign === delimiter || (atStart && sign === " ");
  }
  return count;
}

/**
 * Decides what comment lines begin with: "#", "//" or "%", where a line begins so and is not simply a row whose first
 * cell holds that sign (a header "#;Serial;Date" numbers its rows).
 *
 * @returns null where the sheet has no comment lines.
 */
export function decideComment(lines: readonly string[]): string | null {
  const sample = lines.filter((line) => line.trim() !== "").slice(0, linesLookedAt);
  for (const prefix of ["#", "//", "%"]) {
    const marked = sample.filter((line) => line.startsWith(prefix));
    if (marked.length === 0) continue;
    const others = sample.filter((line) => !line.startsWith(prefix));
    const delimiter = decideDelimiter(others.length === 0 ? marked : others);
    const { width } = commonWidth(others.map((line) => cellCount(line, delimiter)));
    const rows = marked.filter((line) => others.length > 0 && width > 1 && cellCount(line, delimiter) === width);
    if (rows.length === 0) return prefix;
  }
  return null;
}

/**
 * Decides which line holds the headers: the first that is about as wide as the rows below it and holds words, not
 * numbers or dates. What stands above are title lines.
 *
 * @returns Index into `rows`; 0 where nothing better is found.
 */
export function decideHeaderRow(rows: readonly (readonly string[])[]): number {
  const written = rows.slice(0, linesLookedAt).map((cells) => cells.filter((cell) => cell.trim() !== "").length);
  const { width } = commonWidth(rows.slice(0, linesLookedAt).map((cells) => cells.length));
  const typical = Math.max(...written, 1);
  const needed = Math.max(1, Math.min(width, typical) * 0.5);
  for (let i = 0; i < Math.min(rows.length, 40); i++) {
    const cells = (rows[i] ?? []).map((cell) => cell.trim()).filter((cell) => cell !== "");
    if (cells.length < needed) continue;
    const words = cells.filter((cell) => /\p{L}/u.test(cell) && dateParts(cell) === null && !startsAsMeasure(cell));
    const different = new Set(cells.map((cell) => cell.toLowerCase())).size;
    if (words.length >= cells.length * 0.6 && different >= cells.length * 0.6) return i;
  }
  return 0;
}

const startsAsMeasure = (cell: string): boolean => {
  const number = parseNumber(cell, ".");
  return number !== null && number.rest.length <= 6;
};

/**
 * Decides the decimal sign from all cells that are numbers with one sign in them, leaving out what could be a
 * thousands group. "." where nothing decides.
 */
export const decideDecimal = (cells: Iterable<string>): "." | "," => decidedDecimal(cells) ?? ".";

/** As `decideDecimal`, but null where nothing decides. */
export function decidedDecimal(cells: Iterable<string>): "." | "," | null {
  let commas = 0;
  let points = 0;
  for (const cell of cells) {
    const match = /^\s*[-+]?\d+(?:[ '.,\u00a0]\d{3})*([.,])(\d+)\b/.exec(cell);
    if (match === null || match[2]?.length === 3 || dateParts(cell) !== null) continue;
    if (match[1] === ",") commas++;
    else points++;
  }
  if (commas + points === 0) return null;
  return commas > points ? "," : ".";
}
