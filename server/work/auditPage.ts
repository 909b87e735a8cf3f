import {
  AnalysisError,
  type Answer,
  type AuditGroup,
  type AuditRow,
  defaultStudy,
  groupAudit,
  type LivesByDoubt,
  livesOfStudy,
  livesTouched,
  openDoubts,
  type Records,
} from "../../analysis/index.ts";
import type { AuditPage, AuditPageRequest } from "./tasks.ts";

interface Audited {
  readonly groups: readonly AuditGroup[];
  readonly touched: LivesByDoubt | null;
}

const known = new WeakMap<Records, Audited>();

/**
 * The open doubts about records: all groups with their counts, and a page of the rows asked for. Doubts that touch the
 * most lives come first.
 *
 * @param derivable  Whether lives can be derived; without them no doubt says how many it touches.
 */
export function auditPage(
  records: Records,
  answers: readonly Answer[],
  derivable: boolean,
  { rule, table, column, offset, limit }: AuditPageRequest,
): AuditPage {
  const { groups, touched } = audited(records, answers, derivable);
  const lives = ({ id }: AuditRow) => touched?.get(id)?.length ?? null;
  const asked = groups.filter(
    (group) =>
      (rule === null || group.rule === rule) &&
      (table === null || group.table === table) &&
      (column === null || (group.column ?? "none") === column),
  );
  const rows = asked
    .flatMap((group) => group.rows)
    .sort((a, b) => (lives(b) ?? 0) - (lives(a) ?? 0) || (a.id < b.id ? -1 : 1));
  return {
    total: groups.reduce((sum, group) => sum + group.rows.length, 0),
    groups: groups.map((group) => ({
      rule: group.rule,
      table: group.table,
      column: group.column,
      count: group.rows.length,
      lives: group.lives,
    })),
    rows: {
      total: rows.length,
      rows: rows.slice(offset, offset + limit).map((row) => ({ ...row, lives: lives(row) })),
    },
  };
}

function audited(records: Records, answers: readonly Answer[], derivable: boolean): Audited {
  const before = known.get(records);
  if (before !== undefined) return before;
  const rows = openDoubts(records, answers);
  const lives = derivable ? livesIn(records) : null;
  const touched = lives === null ? null : livesTouched(rows, lives);
  const found = { groups: groupAudit(rows, touched), touched };
  known.set(records, found);
  return found;
}

/** Null where nothing can be derived yet. */
function livesIn(records: Records) {
  try {
    return livesOfStudy(defaultStudy("item life"), records);
  } catch (error) {
    if (error instanceof AnalysisError) return null;
    throw error;
  }
}
