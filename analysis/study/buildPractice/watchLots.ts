import { type LotRecord, lotsOnWatch } from "../../practice/screen/lotsOnWatch.ts";
import type { ShopData } from "../shopData.ts";
import { carriersOf, lotName } from "./carriers.ts";
import type { ModeRow, ModeTable } from "./modeTable.ts";
import { FALSE_DISCOVERY_RATE } from "./testPractices.ts";
import type { LotOnWatch } from "./types.ts";

/** Lots of every item and mode that were fitted at least now and then, with the serials that still carry them; worst first. */
export function watchLots(
  tables: readonly ModeTable[],
  data: ShopData,
): { readonly lots: LotOnWatch[]; readonly tested: number } {
  const carriers = carriersOf(data.records, data.derived.cutoff);
  const groups = tables.flatMap((table) =>
    table.items.map((item) => ({
      item,
      mode: table.mode,
      byLot: byLot(table.rows.filter(({ life }) => life.item === item)),
    })),
  );
  const verdicts = lotsOnWatch(
    groups.map(({ byLot: lots }) =>
      [...lots].map(
        ([lot, rows]): LotRecord => ({
          lot,
          lives: rows.length,
          failures: rows.filter(({ failed }) => failed).length,
          expected: rows.reduce((sum, { expected }) => sum + expected, 0),
        }),
      ),
    ),
    FALSE_DISCOVERY_RATE,
  );
  const lots = verdicts.flatMap((own, index) => {
    const { item, mode, byLot: rows } = groups[index]!;
    return own.map(
      (verdict): LotOnWatch => ({
        item,
        mode,
        ...verdict,
        lifeIds: (rows.get(verdict.lot) ?? []).filter(({ failed }) => failed).map(({ life }) => life.id),
        carriedBy: carriers.get(lotName(item, verdict.lot)) ?? [],
      }),
    );
  });
  return { lots: lots.sort((a, b) => a.pValue - b.pValue), tested: lots.length };
}

function byLot(rows: readonly ModeRow[]): Map<string, ModeRow[]> {
  const lots = new Map<string, ModeRow[]>();
  for (const row of rows) {
    const { lot } = row.facts;
    if (lot !== null) lots.set(lot, [...(lots.get(lot) ?? []), row]);
  }
  return lots;
}
