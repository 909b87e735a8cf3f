import type { Records } from "../records/descriptor.ts";
import { checkFit } from "./checkFit.ts";
import { compareTwoGroups } from "./compareTwoGroups.ts";
import { checkStudy } from "./definition.ts";
import { type LivesAskedFor, livesAskedFor } from "./livesAskedFor.ts";
import { lookSensitivity } from "./lookSensitivity.ts";
import type { LifePart, LifePartQuestion } from "./partTypes.ts";
import { recordsOfStudy } from "./recordsOfStudy.ts";
import { provenance, type ShopData, type StudyContext, shopData } from "./shopData.ts";
import type { Provenance, StudyDefinition } from "./types.ts";

/** What every part starts from. */
export interface PartContext {
  readonly definition: StudyDefinition;
  readonly data: ShopData;
  readonly asked: LivesAskedFor;
  /** The mode is fitted with the one it leads to: nothing may be read of it alone. */
  readonly isDefect: boolean;
  readonly common: { readonly provenance: Provenance; readonly item: string; readonly mode: string };
  readonly onShare: (share: number) => void;
}

/**
 * A part of the answer to "how long does this item last", from the lives that answer is from. Pure, as `runStudy`.
 * Errors  As `runStudy`; "bad-setting" for a group that is not there.
 */
export function runLifePart(
  definition: StudyDefinition,
  question: LifePartQuestion,
  records: Records,
  context: StudyContext,
): LifePart {
  checkStudy(definition);
  const data = shopData(recordsOfStudy(definition, records, context.answers ?? []), definition);
  const asked = livesAskedFor(definition, data);
  const { item, mode } = asked.scope;
  const part: PartContext = {
    definition,
    data,
    asked,
    isDefect: asked.link?.defect === mode,
    common: { provenance: provenance(data, definition, context), item, mode },
    onShare: context.onShare ?? (() => {}),
  };
  switch (question.kind) {
    case "checks":
      return checkFit(part);
    case "looks":
      return lookSensitivity(part);
    case "groups":
      return compareTwoGroups(part, question);
  }
}
