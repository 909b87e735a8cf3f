import type { RowRef } from "../../analysis/index.ts";

/** What a reader picked, whose rows are shown at the foot of the view. */
export interface Picked {
  readonly title: string;
  readonly lifeIds: readonly string[];
  readonly rows: readonly RowRef[];
}

export const pickedLives = (title: string, lifeIds: readonly string[]): Picked => ({ title, lifeIds, rows: [] });
export const pickedRows = (title: string, rows: readonly RowRef[]): Picked => ({ title, lifeIds: [], rows });
