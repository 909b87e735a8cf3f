import { readShape, type ShapeChoice } from "../../analysis/index.ts";
import { z } from "./zod.ts";

/** A shape as it is written into an address. */
export const shapeWritten = z.string({ error: "once" }).transform((written, context): ShapeChoice => {
  const shape = readShape(written);
  if (shape !== null) return shape;
  context.addIssue({ code: "custom", message: "shape" });
  return z.NEVER;
});
