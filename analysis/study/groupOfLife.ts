import type { Life } from "../lives/types.ts";
import type { GroupBy } from "./partTypes.ts";
import type { SettledLife } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";

/**
 * Names the group of a life; null where the records do not say.
 *
 * Conventions  By customer: of the first run. By elastomer and backup ring: as fitted at the restoring redress. By period: the date
 *              that halves the lives.
 */
export function groupOfLife(
  by: GroupBy,
  settled: readonly SettledLife[],
  data: ShopData,
): (life: Life) => string | null {
  switch (by) {
    case "size":
      return ({ sizeIn }) => (sizeIn === null ? null : String(sizeIn));
    case "tool type":
      return ({ toolType }) => toolType;
    case "customer":
      return ({ runs }) => (runs[0] && data.runOf(runs[0].row.key)?.customer) ?? null;
    case "elastomer":
    case "backup ring": {
      const fitted = new Map((data.records.fitted_items ?? []).map((row) => [`${row.redress}\u0000${row.item}`, row]));
      return ({ since, item }) => {
        const row = fitted.get(`${since}\u0000${item}`);
        const value = by === "elastomer" ? row?.elastomer : row?.backup_ring;
        return value == null ? null : String(value);
      };
    }
    case "period": {
      const dates = settled.map(({ life }) => life.sinceOn).sort();
      const middle = dates[Math.floor(dates.length / 2)] ?? "";
      return ({ sinceOn }) => (sinceOn < middle ? `before ${middle}` : `from ${middle}`);
    }
  }
}
