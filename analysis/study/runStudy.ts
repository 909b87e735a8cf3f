import type { Records } from "../records/descriptor.ts";
import { recordsAsKnown } from "../records/recordsAsKnown.ts";
import { checkStudy } from "./definition.ts";
import { recordsOfStudy } from "./recordsOfStudy.ts";
import type { Report } from "./report.ts";
import { runBuildPractice } from "./runBuildPractice.ts";
import { runFleet } from "./runFleet.ts";
import { runItemLife } from "./runItemLife.ts";
import { runRedressInterval } from "./runRedressInterval.ts";
import { runToolHistory } from "./runToolHistory.ts";
import { runWhatFails } from "./runWhatFails.ts";
import { type StudyContext, shopData } from "./shopData.ts";
import type { StudyDefinition, StudyResult } from "./types.ts";

/**
 * Answers a question from the records: the only orchestration. Pure; the same records, definition and context give the
 * same result. Lives are derived once for the same records object.
 * Errors  "bad-setting", "no-lives", "tool-not-found", "bad-date".
 */
export function runStudy(
  definition: StudyDefinition,
  records: Records,
  context: StudyContext,
  report?: Report,
): StudyResult {
  checkStudy(definition);
  const used = recordsOfStudy(definition, records, context.answers ?? []);
  if (definition.question === "fleet" && definition.cutoff !== null)
    return fleetAsOf(definition, used, context, report);
  report?.(0, "deriving the lives");
  const data = shopData(used, definition);
  switch (definition.question) {
    case "item life":
      return runItemLife(definition, data, context);
    case "what fails":
      return runWhatFails(definition, data, context);
    case "tool history":
      return runToolHistory(definition, data, context);
    case "fleet":
      return runFleet(definition, data, context, data, report);
    case "redress interval":
      return runRedressInterval(definition, data, context, report);
    case "build practice":
      return runBuildPractice(definition, data, context, report);
  }
}

/** The board as it was on a past date, from what was known then; what came after only scores its forecast. */
function fleetAsOf(
  definition: StudyDefinition,
  records: Records,
  context: StudyContext,
  report: Report | undefined,
): StudyResult {
  const then = shopData(recordsAsKnown(records, definition.cutoff ?? "9999-12-31"), definition);
  return runFleet(definition, then, context, shopData(records, { ...definition, cutoff: null }), report);
}
