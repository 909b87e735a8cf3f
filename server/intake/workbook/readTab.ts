import { numberText } from "./cellText.ts";
import { unescaped, type WorkbookParts } from "./parts.ts";
import { attribute, readXml, XmlError } from "./xml.ts";

/** A cell that is merged over several, in rows and columns counted from 1 and 0. */
export interface Merge {
  readonly firstLine: number;
  readonly lastLine: number;
  readonly firstColumn: number;
  readonly lastColumn: number;
}

export interface TabRow {
  readonly line: number;
  readonly cells: readonly string[];
  /** Columns whose text is a number, written with a point. */
  readonly numbers: ReadonlySet<number>;
}

export interface TabCells {
  /** Rows on which something is written, in order. */
  readonly rows: readonly TabRow[];
  readonly merges: readonly Merge[];
  readonly odd: readonly {
    readonly line: number;
    readonly column: number;
    readonly what: "error" | "no value";
    readonly text: string;
  }[];
}

export interface TabLimits {
  readonly columns: number;
  readonly characters: number;
}

/** Too much for one line, at a place; the caller names file and tab. */
export class TabLimitError extends Error {
  constructor(
    readonly code: "too-many-columns" | "cell-too-long",
    readonly line: number,
    readonly found: number,
  ) {
    super(code);
  }
}

// ECMA-376 says nothing of a limit; these are what spreadsheet programs can show.
const lastLine = 1_048_576;
const lastColumn = 16_383;
const mostMerges = 200_000;

/** Reads the cells of one tab, formulas by the value they were saved with. Errors: `XmlError`, `TabLimitError`. */
export function readTab(
  bytes: Uint8Array,
  workbook: WorkbookParts,
  limits: TabLimits,
  onRows: (done: number) => void = () => undefined,
): TabCells {
  const rows: TabRow[] = [];
  const merges: Merge[] = [];
  const odd: TabCells["odd"][number][] = [];
  let [line, column, type, style] = [0, -1, "n", -1];
  let [value, hasValue, hasFormula, inValue, inText, spoken] = ["", false, false, false, false, 0];
  let cells: string[] = [];
  let numbers = new Set<number>();

  function endCell(): void {
    const text = cellText();
    if (hasFormula && !hasValue) odd.push({ line, column, what: "no value", text: "" });
    if (type === "e" && text !== "") odd.push({ line, column, what: "error", text });
    if (text.trim() === "") return;
    if (column >= limits.columns) throw new TabLimitError("too-many-columns", line, column + 1);
    if (text.length > limits.characters) throw new TabLimitError("cell-too-long", line, text.length);
    while (cells.length < column) cells.push("");
    cells[column] = text;
    if (type === "n" && /^-?\d/.test(text) && !/[-:]/.test(text.slice(1))) numbers.add(column);
  }

  function cellText(): string {
    if (!hasValue) return "";
    switch (type) {
      case "s": {
        const found = workbook.strings[Number(value)];
        if (found === undefined || !/^\d+$/.test(value.trim()))
          throw new XmlError(`line ${line} points to a text that the workbook does not hold`);
        return found;
      }
      case "b":
        return value.trim() === "1" ? "TRUE" : value.trim() === "0" ? "FALSE" : value;
      case "d":
        return value.replace(/T00:00(?::00(?:\.0+)?)?Z?$/, "").replace("T", " ");
      case "n":
        return numberText(value, workbook.styles[style] ?? "general", workbook.from1904);
      default:
        return unescaped(value);
    }
  }

  readXml(bytes, {
    open(name, attributes) {
      switch (name) {
        case "row": {
          const given = attribute(attributes, "r");
          const next = given === null ? line + 1 : Number(given);
          if (!Number.isInteger(next) || next <= line || next > lastLine)
            throw new XmlError(`line ${given} follows line ${line}`);
          [line, column, cells, numbers] = [next, -1, [], new Set()];
          break;
        }
        case "c": {
          const given = attribute(attributes, "r");
          const next = given === null ? column + 1 : columnOf(given);
          if (next <= column || next > lastColumn)
            throw new XmlError(`on line ${line} the cell ${given} is out of place`);
          column = next;
          type = attribute(attributes, "t") ?? "n";
          style = Number(attribute(attributes, "s") ?? -1);
          [value, hasValue, hasFormula] = ["", false, false];
          break;
        }
        case "v":
          [inValue, hasValue] = [true, true];
          break;
        case "t":
          [inText, hasValue] = [true, true];
          break;
        case "f":
          hasFormula = true;
          break;
        case "rPh":
          spoken += 1;
          break;
        case "mergeCell":
          if (merges.length >= mostMerges) throw new XmlError(`it has more than ${mostMerges} merged cells`);
          merges.push(mergeOf(attribute(attributes, "ref") ?? ""));
      }
    },
    close(name) {
      if (name === "c") endCell();
      else if (name === "v") inValue = false;
      else if (name === "t") inText = false;
      else if (name === "rPh") spoken -= 1;
      else if (name === "row" && cells.length > 0) {
        rows.push({ line, cells, numbers });
        if (rows.length % 2_000 === 0) onRows(rows.length);
      }
    },
    text(text) {
      if (inValue || (inText && spoken === 0)) value += text;
    },
  });
  return { rows, merges, odd };
}

/** "AB12" is column 27. */
function columnOf(reference: string): number {
  const letters = /^\$?([A-Z]{1,3})\$?\d+$/i.exec(reference)?.[1];
  if (letters === undefined) throw new XmlError(`"${reference.slice(0, 20)}" names no cell`);
  return [...letters.toUpperCase()].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

const lineOf = (reference: string): number => Number(/(\d+)$/.exec(reference)?.[1] ?? Number.NaN);

function mergeOf(reference: string): Merge {
  const [from = "", to = from] = reference.split(":");
  return {
    firstLine: Math.min(lineOf(from), lineOf(to)),
    lastLine: Math.max(lineOf(from), lineOf(to)),
    firstColumn: Math.min(columnOf(from), columnOf(to)),
    lastColumn: Math.max(columnOf(from), columnOf(to)),
  };
}
