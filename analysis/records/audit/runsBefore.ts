import type { Row } from "../descriptor.ts";
import type { ShopLook, ToolStory } from "./auditShop.ts";

/** Runs that came in since the redress before a look. On one date: run in, teardown, redress. */
export function runsBefore({ runs, redresses }: ToolStory, { day }: ShopLook): readonly Row<"runs">[] {
  const since = redresses.filter((row) => row.day < day).at(-1)?.day ?? -Infinity;
  return runs.flatMap(({ run, inDay }) => (inDay !== null && inDay >= since && inDay <= day ? [run] : []));
}
