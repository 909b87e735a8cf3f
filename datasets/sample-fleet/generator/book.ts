/** The shop's book: rows in the order in which they are written, numbered as they come. */
import type { Row, RowRef } from "../../../analysis/records/descriptor.ts";
import type { ItemInUse, TrueLife } from "./trueLife.ts";

/** Something that happened in the shop and makes the records hard to read, though nothing is written wrongly. */
export interface Happened {
  readonly kind:
    | "leaking tool coded planned"
    | "hour not noted"
    | "tool failure, no item named"
    | "item swapped"
    | "failed item refitted"
    | "in use before the records"
    | "late report"
    | "never torn down"
    | "lost in hole"
    | "build failed its test";
  readonly row: RowRef;
}

export class Book {
  readonly redresses: Row<"redresses">[] = [];
  readonly joints: Row<"joints">[] = [];
  readonly fittedItems: Row<"fitted_items">[] = [];
  readonly runs: Row<"runs">[] = [];
  readonly teardowns: Row<"teardowns">[] = [];
  readonly findings: Row<"findings">[] = [];
  readonly trueLives: TrueLife[] = [];
  readonly happened: Happened[] = [];
  /** Used pins waiting for another tool. */
  readonly usedPins: ItemInUse[] = [];
  private itemSerials = 0;
  private redressNumber = 0;
  private runNumber = 0;
  private teardownNumber = 0;

  nextRedress = (): string => `B-${String(++this.redressNumber).padStart(4, "0")}`;
  nextRun = (): string => `R-${String(++this.runNumber).padStart(4, "0")}`;
  nextTeardown = (): string => `T-${String(++this.teardownNumber).padStart(4, "0")}`;
  nextPin = (): string => `P${String(++this.itemSerials).padStart(4, "0")}`;

  happen(kind: Happened["kind"], table: RowRef["table"], ...key: readonly string[]): void {
    this.happened.push({ kind, row: { table, key: JSON.stringify(key) } });
  }
}
