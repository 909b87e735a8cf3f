import {
  type Answer,
  livesOfScope,
  livesOfStudy,
  type Records,
  recordsOfStudy,
  type StudyDefinition,
} from "../../analysis/index.ts";
import type { LivesPage, LivesPageRequest } from "./tasks.ts";

/** The lives of a study's scope, one page of them; or the lives with these ids, in the order asked. */
export function livesPage(
  audited: Records,
  answers: readonly Answer[],
  definition: StudyDefinition,
  { ids, kind, offset, limit }: LivesPageRequest,
): LivesPage {
  const records = recordsOfStudy(definition, audited, answers);
  if (ids !== null) {
    const byId = new Map(livesOfStudy(definition, records).map((life) => [life.id, life]));
    const found = ids.flatMap((id) => byId.get(id) ?? []);
    return { total: found.length, lives: found };
  }
  const asked = livesOfScope(definition, records).filter((life) => kind === null || life.kind === kind);
  return { total: asked.length, lives: asked.slice(offset, offset + limit) };
}
