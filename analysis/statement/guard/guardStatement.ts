import type { StatementResult } from "../types.ts";
import { bestOfMany, pointsCompared, windowPicked, worstStretch } from "./aboutComparing.ts";
import { beyondExperience, calendarRate, hoursMixed, unlikePooled } from "./aboutExposure.ts";
import { meanTimeAsLife, mixedMeanTime } from "./aboutMeanTimes.ts";
import { definitionChanged, nothingFound, onlyReturned, plannedFailures, survivorsLeftOut } from "./aboutWhatCounts.ts";
import { type Detector, type GuardFinding, type MisleadingPractice, misleadingPractices } from "./types.ts";

const detectors: Readonly<Record<MisleadingPractice, Detector>> = {
  "mean time over mixed modes": mixedMeanTime,
  "survivors left out": survivorsLeftOut,
  "points compared without bounds": pointsCompared,
  "only tools that came back": onlyReturned,
  "definition changed": definitionChanged,
  "unlike tools pooled": unlikePooled,
  "kinds of hours mixed": hoursMixed,
  "calendar instead of exposure": calendarRate,
  "window picked": windowPicked,
  "beyond experience": beyondExperience,
  "best of many": bestOfMany,
  "planned redress of failed tools": plannedFailures,
  "nothing found left out": nothingFound,
  "mean time read as a life": meanTimeAsLife,
  "worst stretch chosen": worstStretch,
};

/** Checks a statement for the fifteen misleading practices, on the statement itself. In the order of `misleadingPractices`. */
export function guardStatement(statement: StatementResult): readonly GuardFinding[] {
  return misleadingPractices.flatMap((practice): GuardFinding[] => {
    const found = detectors[practice](statement);
    return found === null ? [] : [{ practice, ...found }];
  });
}
