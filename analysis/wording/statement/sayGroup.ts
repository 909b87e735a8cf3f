import { formatSize } from "../formatSize.ts";

/** A group as the trade names it: "4.75 in" among sizes is "4 3/4 in". */
export const sayGroup = (by: string, name: string): string => {
  const size = by === "size" ? Number.parseFloat(name) : Number.NaN;
  return Number.isNaN(size) ? name : formatSize(size);
};
