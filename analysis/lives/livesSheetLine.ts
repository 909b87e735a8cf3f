import { isBlank } from "../records/cellValue.ts";
import type { SheetCells } from "../records/mapping.ts";
import { parseNumber } from "../records/parseNumber.ts";
import { unitOf } from "../records/units.ts";
import { type LivesSheetEnding, livesSheetEnding } from "./livesSheetEnding.ts";
import type { LivesSheetLife, LivesSheetProblem } from "./livesSheetTypes.ts";

/** What a column of a lives sheet is for. */
export type LivesSheetRole = "age" | "lower" | "upper" | "ended" | "count" | "entry" | "id";
export type LivesSheetColumns = Readonly<
  Partial<Record<LivesSheetRole, { readonly index: number; readonly header: string }>>
>;

/** Reads one line; what is wrong with it gathers in `problems`. */
export class LivesSheetLine {
  readonly problems: LivesSheetProblem[] = [];

  constructor(
    private readonly sheet: SheetCells,
    private readonly columns: LivesSheetColumns,
    private readonly unit: string | null,
    private readonly line: number,
    private readonly cells: readonly string[],
  ) {}

  life(covariates: readonly { readonly index: number; readonly header: string }[]): LivesSheetLife | null {
    const surplus = this.cells.slice(this.sheet.headers.length).find((cell) => !isBlank(cell));
    if (surplus !== undefined) this.problem("too-many-cells", null, surplus, { headers: this.sheet.headers.length });
    const age = this.number("age");
    const lower = this.number("lower");
    const upper = this.number("upper");
    const entry = this.number("entry") ?? 0;
    const count = this.number("count") ?? 1;
    if (count === 0) this.report("count-not-above-zero", "count");
    const ending = this.ending(lower, upper);
    if (ending === null || this.problems.length > 0) return null;

    const ends = this.endsOf(ending, age, lower, upper, entry);
    if (ends === null) return null;
    const end = ends.upper ?? ends.lower;
    if (entry > end) this.report("entry-beyond-end", "entry", { end });
    return {
      ...ends,
      entry,
      count,
      id: this.written("id") || `line ${this.line}`,
      line: this.line,
      covariates: Object.fromEntries(covariates.map(({ index, header }) => [header, (this.cells[index] ?? "").trim()])),
    };
  }

  private ending(lower: number | null, upper: number | null): LivesSheetEnding | null {
    if (this.columns.ended === undefined) {
      if (upper === null) return "still good at";
      return lower === upper ? "failed at" : "failed between";
    }
    const cell = this.written("ended");
    if (isBlank(cell)) {
      this.report("missing", "ended");
      return null;
    }
    const ending = livesSheetEnding(cell);
    if (ending === null) this.report("ending-not-known", "ended");
    return ending;
  }

  private endsOf(
    ending: LivesSheetEnding,
    age: number | null,
    lower: number | null,
    upper: number | null,
    entry: number,
  ): { readonly lower: number; readonly upper: number | null } | null {
    switch (ending) {
      case "failed at": {
        const at = this.needed("age", age ?? lower ?? upper);
        for (const [role, value] of [
          ["lower", lower],
          ["upper", upper],
        ] as const) {
          if (value !== null && value !== at) this.report("contradicts-ending", role, { ending });
        }
        return at === null ? null : { lower: at, upper: at };
      }
      case "still good at": {
        const at = this.needed("age", age ?? lower);
        if (upper !== null) this.report("contradicts-ending", "upper", { ending });
        if (lower !== null && lower !== at) this.report("contradicts-ending", "lower", { ending });
        return at === null ? null : { lower: at, upper: null };
      }
      case "failed before": {
        const before = this.needed("age", age ?? upper);
        if (upper !== null && upper !== before) this.report("contradicts-ending", "upper", { ending });
        if (lower !== null && lower !== entry) this.report("contradicts-ending", "lower", { ending });
        if (before !== null && before <= entry)
          this.report("nothing-between", this.columns.age ? "age" : "upper", { lower: entry, upper: before });
        return before === null ? null : { lower: entry, upper: before };
      }
      case "failed between": {
        const from = this.needed("lower", lower);
        const to = this.needed("upper", upper);
        if (from === null || to === null) return null;
        if (age !== null) this.report("contradicts-ending", "age", { ending });
        if (from > to) this.report("lower-above-upper", "lower", { lower: from, upper: to });
        if (from === to) this.report("nothing-between", "lower", { lower: from, upper: to });
        return { lower: from, upper: to };
      }
    }
  }

  private needed(role: LivesSheetRole, value: number | null): number | null {
    if (value === null) this.report("missing", this.columns[role] === undefined && role === "age" ? "lower" : role);
    return value;
  }

  private number(role: LivesSheetRole): number | null {
    const cell = this.written(role);
    if (isBlank(cell)) return null;
    const read = parseNumber(cell, this.sheet.format.decimal);
    if (read === null || !this.isOwnUnit(read.rest)) {
      this.report("not-a-number", role, { unit: this.unit });
      return null;
    }
    if (read.value < 0) this.report("below-zero", role);
    return read.value;
  }

  /** "62.5 h" in a column of hours; another unit is refused, never converted unasked. */
  private isOwnUnit(rest: string): boolean {
    if (rest === "" || rest === this.unit) return true;
    const own = this.unit === null ? null : unitOf(this.unit);
    return own !== null && unitOf(rest) === own;
  }

  private written(role: LivesSheetRole): string {
    const column = this.columns[role];
    return column === undefined ? "" : (this.cells[column.index] ?? "").trim();
  }

  private report(code: LivesSheetProblem["code"], role: LivesSheetRole, facts: LivesSheetProblem["facts"] = {}): void {
    this.problem(code, this.columns[role]?.header ?? role, this.written(role) || null, facts);
  }

  private problem(
    code: LivesSheetProblem["code"],
    column: string | null,
    value: string | null,
    facts: LivesSheetProblem["facts"],
  ): void {
    this.problems.push({
      code,
      origin: { file: this.sheet.file, sheet: this.sheet.sheet, line: this.line },
      column,
      value,
      facts,
    });
  }
}
