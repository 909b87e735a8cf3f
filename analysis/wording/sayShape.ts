import type { ShapeTaken } from "../study/types.ts";
import { formatNumber } from "./formatNumber.ts";

/** What the picture of a shape's belief shows. */
export function sayShapeFinding({ kind, low, high, sure, pooledFrom }: ShapeTaken): string {
  const range = `between ${formatNumber(low)} and ${formatNumber(high)} (${formatNumber(100 * sure)} % sure)`;
  return kind === "pooled"
    ? `The other ${formatNumber(pooledFrom?.groups ?? 0)} modes and sizes put the shape ${range}; these lives move that to the solid line`
    : `The shape was believed ${range}; these lives move that to the solid line`;
}
