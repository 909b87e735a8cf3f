import type { Life, Records, Scope } from "../../analysis/index.ts";
import type { LivesPage, LivesPageRequest } from "./tasks.ts";

/** The lives of a scope, one page of them; or the lives with these ids, in the order asked. */
export function livesPage(
  lives: readonly Life[],
  records: Records,
  scope: Scope,
  { ids, kind, offset, limit }: LivesPageRequest,
): LivesPage {
  if (ids !== null) {
    const byId = new Map(lives.map((life) => [life.id, life]));
    const found = ids.flatMap((id) => byId.get(id) ?? []);
    return { total: found.length, lives: found };
  }
  const customers = scope.customer === null ? null : runsFor(records, scope.customer);
  const inScope = lives.filter(
    (life) =>
      (scope.toolType === null || life.toolType === scope.toolType) &&
      (scope.sizeIn === null || life.sizeIn === scope.sizeIn) &&
      (scope.item === null || life.item === scope.item) &&
      (scope.mode === null || life.mode === scope.mode) &&
      (scope.serial === null || life.serial === scope.serial) &&
      (scope.from === null || life.sinceOn >= scope.from) &&
      (scope.to === null || life.sinceOn <= scope.to) &&
      (kind === null || life.kind === kind) &&
      (customers === null || life.runs.some((run) => customers.has(run.row.key))),
  );
  return { total: inScope.length, lives: inScope.slice(offset, offset + limit) };
}

function runsFor(records: Records, customer: string): ReadonlySet<string> {
  return new Set(
    (records.runs ?? []).filter((run) => run.customer === customer).map((run) => JSON.stringify([run.run])),
  );
}
