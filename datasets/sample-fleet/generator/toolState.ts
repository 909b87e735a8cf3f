/** One tool as the simulator holds it between events. */
import type { Book } from "./book.ts";
import type { FleetOptions } from "./options.ts";
import type { Draw } from "./random.ts";
import type { ToolType } from "./toolTypes.ts";
import type { ItemInUse } from "./trueLife.ts";

/** What the last teardown decided about the next redress. */
export interface RedressPlan {
  readonly reason: "new" | "planned" | "failure" | "upgrade";
  /** Items opened: joints among them are made up again. */
  readonly opened: ReadonlySet<string>;
  readonly renew: ReadonlySet<string>;
  /** Mid-life entry: items carried over with the hours they bring. */
  readonly inUseBefore: boolean;
  readonly lookedAtOnEntry: boolean;
}

/** Streams of random numbers: a switch that changes one leaves the others where they were. */
export interface ToolDraws {
  readonly life: Draw;
  readonly use: Draw;
  readonly build: Draw;
  readonly look: Draw;
  readonly habit: Draw;
}

export interface ToolState {
  readonly options: FleetOptions;
  readonly book: Book;
  readonly draws: ToolDraws;
  readonly serial: string;
  readonly type: ToolType;
  readonly size: 4.75 | 6.5;
  readonly factor: number;
  readonly toDay: number;
  readonly items: Map<string, ItemInUse>;
  hoursSinceRedress: number;
  /** The last build was for rough wells; see `FleetOptions.confounded`. */
  roughWells: boolean;
  hoursTarget: number;
  plan: RedressPlan;
  /** The item whose failure in a run was reported: the teardown opens it. */
  reported: { readonly item: string; readonly mode: string } | null;
  /** A failure brought the tool in, whatever was written. */
  broughtInBy: "planned" | "tool failure";
  /** Brought in leaking though nobody said so. */
  silentLeak: boolean;
}
