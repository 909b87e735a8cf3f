import type { RowRef } from "../../analysis/index.ts";

/** A row as the address of the rows view names it. */
export const refText = ({ table, key }: RowRef): string => `${table}:${key}`;
