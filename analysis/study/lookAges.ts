import { type SettledLife, settledAge } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";

/** Ages of the looks of each life; null for a life of a mode that tells its own age. In the order of the lives. */
export function lookAges(
  settled: readonly SettledLife[],
  { modesOf, hoursPerDay }: Pick<ShopData, "modesOf" | "hoursPerDay">,
): (readonly number[] | null)[] {
  return settled.map(({ life, entry }) => {
    const mode = modesOf(life.toolType, life.item).find((one) => one.mode === life.mode);
    if (mode?.announces !== "hidden") return null;
    return life.looks.map(({ age }) => settledAge(age, hoursPerDay)).filter((age) => age > entry);
  });
}
