/** What a table kept by hand can start from, with where it comes from: an offer, never filled in by itself. Pure. */
import { modeCatalogue } from "../../analysis/index.ts";
import type { FormTable } from "./formTables.ts";

type Values = Readonly<Record<string, unknown>>;

export interface Offer {
  readonly name: string;
  readonly values: Values;
}

/** Where the offers and the usual values of a table come from; null where there are none. */
export const sourceOf: { readonly [T in FormTable]?: string } = {
  modes:
    "The trade list: names and appearance by common seal-failure guides and shop practice, mechanism groups behind them ISO 14224:2016, Table B.2. Whether a mode announces itself, what restores it and the threshold of severity 3 are common practice, no source: check them for your shop.",
  compounds:
    "The friction factor is a multiplier of the torque against the reference compound (API RP 7A1); the maker prints it on the pail. 0.8 to 1.25 is usual (from memory). Without one no torque is corrected.",
  tool_items:
    "Position 1 is the uphole end and sets the order of the drawing and of the buttons at the teardown table. Design torque and connection come from the maker's manual.",
};

/** Rows that the trade knows and the table does not hold yet. */
export function offersOf(table: FormTable, rows: readonly Values[]): readonly Offer[] {
  if (table !== "modes") return [];
  const known = new Set(rows.map(({ item, mode }) => JSON.stringify([item, mode])));
  return modeCatalogue.flatMap(({ kinds, mode, announces, threshold, restoredBy, leadsTo, words }) =>
    kinds
      .filter((kind) => !known.has(JSON.stringify([kind, mode])))
      .map((kind) => ({
        name: `${kind}: ${mode}`,
        values: { item: kind, mode, announces, threshold, restored_by: restoredBy, leads_to: leadsTo, words },
      })),
  );
}
