import type { Row } from "../descriptor.ts";
import type { ShopLook, ToolStory } from "./auditShop.ts";

/**
 * The redress that followed a look; undefined where there is none yet, or where the tool ran on in between: then the
 * build sheet that belongs to the look is missing and the next one speaks of another stay in the shop.
 */
export function redressAfter({ runs, redresses }: ToolStory, { day }: ShopLook): Row<"redresses"> | undefined {
  const next = redresses.find((row) => row.day >= day);
  if (next === undefined || runs.some(({ outDay }) => outDay >= day && outDay < next.day)) return undefined;
  return next.redress;
}
