/** What a lives sheet says: lives for fitting, and every line that could not be read. */
import type { Origin } from "../records/mapping.ts";

/** One line of a lives sheet, ready for `lifeSample`. Ages in the unit of the sheet. */
export interface LivesSheetLife {
  readonly lower: number;
  /** Null for a life that had not failed. */
  readonly upper: number | null;
  readonly entry: number;
  readonly count: number;
  readonly id: string;
  readonly line: number;
  /** Cells of the columns that are no age, ending, count or identity, by header, as written. */
  readonly covariates: Readonly<Record<string, string>>;
}

export interface LivesSheetProblem {
  readonly code:
    | "no-age-column"
    | "no-ending-column"
    | "column-twice"
    | "units-differ"
    | "missing"
    | "not-a-number"
    | "below-zero"
    | "count-not-above-zero"
    | "ending-not-known"
    | "lower-above-upper"
    | "nothing-between"
    | "entry-beyond-end"
    | "contradicts-ending"
    | "too-many-cells";
  readonly origin: Origin;
  readonly column: string | null;
  /** The cell as written. */
  readonly value: string | null;
  readonly facts: Readonly<Record<string, string | number | null>>;
}

/** Every line of the sheet is in exactly one of `lives` and `setAside`. */
export interface LivesSheet {
  /** From the headers, "Age (h)"; null where no header names one. */
  readonly unit: string | null;
  readonly covariates: readonly string[];
  readonly lives: readonly LivesSheetLife[];
  readonly setAside: readonly {
    readonly line: number;
    readonly cells: readonly string[];
    readonly problems: readonly LivesSheetProblem[];
  }[];
  /** Of the header line and of the lines set aside. */
  readonly problems: readonly LivesSheetProblem[];
}
