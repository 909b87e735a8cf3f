/** Plants the faults of a shop's record keeping: see FleetDirt. What was true stays in `was`. */
import type { Records, RowRef } from "../../../analysis/records/descriptor.ts";
import type { Happened } from "./book.ts";
import type { FleetOptions } from "./options.ts";

export interface PlantedFault {
  readonly kind: Happened["kind"] | "hours missing";
  readonly row: RowRef;
  /** `none`: true as written, and listed because it makes the records hard to read. */
  readonly change: "none" | "value" | "row added" | "row missing";
  readonly column: string | null;
}

export function plantFaults(
  records: Records,
  options: FleetOptions,
  happened: readonly Happened[],
): { readonly recorded: Records; readonly planted: readonly PlantedFault[] } {
  void options;
  return { recorded: records, planted: happened.map((fact) => ({ ...fact, change: "none" as const, column: null })) };
}
