import type { ShapeChoice } from "./types.ts";

/** How sure a range of shapes is that is written without saying so. */
export const USUALLY_SURE = 0.9;
const NUMBER = "(\\d+(?:\\.\\d+)?)";
const written = new RegExp(`^${NUMBER}(?:-${NUMBER}(?:@0?\\.(\\d+))?)?$`);

/**
 * A shape as it stands in an address: "2" is fixed, "1.5-3" a range, 90 % sure, "1.5-3@.8" one that is 80 % sure, "pooled" what the
 * other modes tell.
 *
 * @returns  Null where it is none of these, or out of order.
 */
export function readShape(text: string): ShapeChoice | null {
  if (text === "pooled") return { kind: "pooled" };
  const [, first, second, sure] = written.exec(text.trim()) ?? [];
  const low = Number(first);
  if (!(low > 0)) return null;
  if (second === undefined) return { kind: "fixed", shape: low };
  const high = Number(second);
  const share = sure === undefined ? USUALLY_SURE : Number(`0.${sure}`);
  return high > low && share > 0 ? { kind: "prior", low, high, sure: share } : null;
}

/** The same, written; `readShape` gives it back. */
export function writeShape(shape: ShapeChoice): string {
  switch (shape.kind) {
    case "fixed":
      return String(shape.shape);
    case "prior":
      return `${shape.low}-${shape.high}${shape.sure === USUALLY_SURE ? "" : `@${String(shape.sure).replace(/^0/, "")}`}`;
    case "pooled":
      return "pooled";
  }
}
