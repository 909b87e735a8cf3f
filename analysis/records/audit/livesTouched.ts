import type { RowRef } from "../descriptor.ts";
import type { AuditRow, LivesByDoubt } from "./types.ts";

/** A life, as far as an audit reads it. */
export interface RestingOnRows {
  readonly id: string;
  readonly rows: readonly RowRef[];
}

/**
 * Which lives rest on the rows of each doubt: the row doubted and the others beside it. A doubt about a row that no life
 * uses (a run still out, a duplicate left out already) may touch none.
 *
 * @returns Life ids by the doubt's id, in the order of `lives`; an entry for every doubt.
 */
export function livesTouched(
  auditRows: readonly Pick<AuditRow, "id" | "row" | "others">[],
  lives: readonly RestingOnRows[],
): LivesByDoubt {
  const place = ({ table, key }: RowRef) => `${table} ${key}`;
  const doubted = new Map<string, number[]>();
  for (const { row, others } of auditRows) for (const ref of [row, ...others]) doubted.set(place(ref), []);
  lives.forEach(({ rows }, index) => {
    for (const ref of rows) doubted.get(place(ref))?.push(index);
  });
  return new Map(
    auditRows.map(({ id, row, others }) => {
      const indices = new Set([row, ...others].flatMap((ref) => doubted.get(place(ref)) ?? []));
      return [id, [...indices].sort((a, b) => a - b).flatMap((index) => lives[index]?.id ?? [])];
    }),
  );
}
