import type { Life } from "../lives/types.ts";
import type { Records } from "../records/descriptor.ts";
import { scopedLives } from "./scopedLives.ts";
import { shopData } from "./shopData.ts";
import type { StudyDefinition } from "./types.ts";

/** Every life that a study derives, whatever its scope, in the order derived. */
export function livesOfStudy(definition: StudyDefinition, records: Records): readonly Life[] {
  return shopData(records, definition).derived.lives;
}

/**
 * The lives that a question about the life of an item is answered from: of the scope's tools, items and modes, restored
 * between its dates, begun with its customer. In the order derived.
 */
export function livesOfScope(definition: StudyDefinition, records: Records): readonly Life[] {
  return scopedLives(shopData(records, definition), definition.scope);
}
