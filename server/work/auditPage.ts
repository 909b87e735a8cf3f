import {
  AnalysisError,
  type Answer,
  type AuditGroup,
  type AuditRow,
  defaultStudy,
  groupAudit,
  type LivesByDoubt,
  livesOfScope,
  livesOfStudy,
  livesTouched,
  openDoubts,
  type Records,
  type Scope,
} from "../../analysis/index.ts";
import { RecentlyUsed } from "./recentlyUsed.ts";
import type { AuditPage, AuditPageRequest } from "./tasks.ts";

interface Audited {
  readonly rows: readonly AuditRow[];
  readonly groups: readonly AuditGroup[];
  readonly touched: LivesByDoubt | null;
  /** Lives of the scope. */
  readonly lives: number;
}

/** A page asks for its own scope again and again; the others are soon worked out anew. */
const scopesKept = 12;
const known = new WeakMap<Records, RecentlyUsed<Audited>>();

/**
 * The open doubts about records: all groups with their counts, and a page of the rows asked for. Doubts that touch the
 * most lives come first. Of a scope only those doubts that its lives rest on.
 *
 * @param derivable  Whether lives can be derived; without them no doubt says how many it touches.
 */
export function auditPage(
  records: Records,
  answers: readonly Answer[],
  derivable: boolean,
  { rule, table, column, scope, offset, limit }: AuditPageRequest,
): AuditPage {
  const { rows: open, groups, touched, lives: inAll } = audited(records, answers, derivable, scope);
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
  const soFar = new Set<string>();
  const summaries = groups.map((group) => {
    for (const row of group.rows) for (const id of touched?.get(row.id) ?? []) soFar.add(id);
    return {
      rule: group.rule,
      table: group.table,
      column: group.column,
      count: group.rows.length,
      lives: group.lives,
      livesSoFar: touched === null ? null : soFar.size,
    };
  });
  return {
    total: open.length,
    lives: touched === null ? null : { touched: soFar.size, total: inAll },
    groups: summaries,
    rows: {
      total: rows.length,
      rows: rows.slice(offset, offset + limit).map((row) => ({ ...row, lives: lives(row) })),
    },
  };
}

/** Worked out once for the same records and scope. */
function audited(records: Records, answers: readonly Answer[], derivable: boolean, scope: Scope | null): Audited {
  const byScope = known.get(records) ?? new RecentlyUsed<Audited>(scopesKept);
  known.set(records, byScope);
  const name = JSON.stringify(scope);
  const before = byScope.get(name);
  if (before !== undefined) return before;
  const all = openDoubts(records, answers);
  const lives = derivable ? livesIn(records, scope) : null;
  const touched = lives === null ? null : livesTouched(all, lives);
  const rows = scope === null || touched === null ? all : all.filter(({ id }) => (touched.get(id)?.length ?? 0) > 0);
  const found = { rows, groups: groupAudit(rows, touched), touched, lives: lives?.length ?? 0 };
  byScope.set(name, found);
  return found;
}

/** Null where nothing can be derived yet. */
function livesIn(records: Records, scope: Scope | null) {
  try {
    return scope === null
      ? livesOfStudy(defaultStudy("item life"), records)
      : livesOfScope(defaultStudy("item life", scope), records);
  } catch (error) {
    if (error instanceof AnalysisError) return null;
    throw error;
  }
}
