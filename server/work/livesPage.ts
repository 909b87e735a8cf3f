import {
  begunWith,
  betweenDates,
  inScope,
  type Records,
  type StudyDefinition,
  shopData,
} from "../../analysis/index.ts";
import type { LivesPage, LivesPageRequest } from "./tasks.ts";

/** The lives of a study's scope, one page of them; or the lives with these ids, in the order asked. */
export function livesPage(
  records: Records,
  definition: StudyDefinition,
  { ids, kind, offset, limit }: LivesPageRequest,
): LivesPage {
  const data = shopData(records, definition);
  const { lives } = data.derived;
  if (ids !== null) {
    const byId = new Map(lives.map((life) => [life.id, life]));
    const found = ids.flatMap((id) => byId.get(id) ?? []);
    return { total: found.length, lives: found };
  }
  const { scope } = definition;
  const asked = lives.filter(
    (life) =>
      inScope(scope, life) &&
      betweenDates(scope.from, scope.to, life.sinceOn) &&
      begunWith(data, scope.customer, life.runs) &&
      (kind === null || life.kind === kind),
  );
  return { total: asked.length, lives: asked.slice(offset, offset + limit) };
}
