import type { Life } from "../lives/types.ts";
import type { Answer } from "../records/audit/types.ts";
import type { Records } from "../records/descriptor.ts";
import { sameValue } from "../records/sameValues.ts";
import { defaultStudy } from "./definition.ts";
import { livesOfStudy } from "./livesOfScope.ts";
import type { AnswersEffect } from "./recordsApi.ts";
import { openDoubts } from "./recordsOfStudy.ts";

/** Records with the answers applied that stand, and those answers. */
export interface Standing {
  readonly records: Records;
  readonly answers: readonly Answer[];
}

/**
 * What answers change: cells, doubts, lives. Lives are those of the usual study of the whole fleet, told apart by id; one
 * has changed where its start, ages, end or the runs and looks it rests on come out otherwise.
 *
 * @param given      The answers that make the difference.
 * @param derivable  Whether lives can be derived; without them nothing is said of lives.
 */
export function answersEffect(
  before: Standing,
  after: Standing,
  given: readonly Answer[],
  derivable: boolean,
): AnswersEffect {
  return {
    cells: given.filter(({ verdict, was, becomes }) => verdict === "correct" && !sameValue(was, becomes)).length,
    rowsLeftOut: new Set(
      given.flatMap(({ verdict, table, key }) => (verdict === "exclude" ? [JSON.stringify([table, key])] : [])),
    ).size,
    doubts: {
      before: openDoubts(before.records, before.answers).length,
      after: openDoubts(after.records, after.answers).length,
    },
    lives: derivable ? compareLives(allLives(before.records), allLives(after.records)) : null,
  };
}

const allLives = (records: Records): readonly Life[] => livesOfStudy(defaultStudy("item life"), records);

function compareLives(before: readonly Life[], after: readonly Life[]): AnswersEffect["lives"] {
  const known = new Map(before.map((life) => [life.id, JSON.stringify(life)]));
  const kept = after.filter(({ id }) => known.has(id));
  return {
    changed: kept.filter((life) => known.get(life.id) !== JSON.stringify(life)).length,
    gone: before.length - kept.length,
    added: after.length - kept.length,
    total: after.length,
  };
}
