import type { AuditGroup, AuditRow, LivesByDoubt } from "./types.ts";

/**
 * Doubts by rule and column, those first that touch the most lives, then those with the most rows.
 *
 * @param touched  From `livesTouched`; without it lives are null and groups come by number of rows.
 */
export function groupAudit(rows: readonly AuditRow[], touched: LivesByDoubt | null = null): readonly AuditGroup[] {
  const lives = (row: AuditRow) => touched?.get(row.id) ?? [];
  const groups = new Map<string, AuditRow[]>();
  for (const row of rows) {
    const key = JSON.stringify([row.rule, row.row.table, row.column]);
    const group = groups.get(key);
    if (group) group.push(row);
    else groups.set(key, [row]);
  }
  return [...groups]
    .flatMap(([key, members]) => {
      const first = members[0];
      if (first === undefined) return [];
      const group: AuditGroup = {
        rule: first.rule,
        table: first.row.table,
        column: first.column,
        rows: members.sort((a, b) => lives(b).length - lives(a).length || (a.id < b.id ? -1 : 1)),
        lives: touched === null ? null : new Set(members.flatMap(lives)).size,
      };
      return [{ key, group }];
    })
    .sort(
      (a, b) =>
        (b.group.lives ?? 0) - (a.group.lives ?? 0) ||
        b.group.rows.length - a.group.rows.length ||
        (a.key < b.key ? -1 : 1),
    )
    .map(({ group }) => group);
}
