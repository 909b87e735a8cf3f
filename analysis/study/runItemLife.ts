import { weibull } from "../distributions/weibull.ts";
import { fitWeibull } from "../estimation/fitWeibull.ts";
import type { Life } from "../lives/types.ts";
import { type Answer, answerAlone, noReadings, usualBounds } from "./answerAlone.ts";
import { compareLaws } from "./compareLaws.ts";
import { fitJointly, type JointFit, jointReadings, jointSurvival } from "./fitJointly.ts";
import { gridOfAges } from "./gridOfAges.ts";
import { itemLifeNotices } from "./itemLifeNotices.ts";
import { countLives } from "./lifeCounts.ts";
import { lifeHistories } from "./lifeHistories.ts";
import { livesAskedFor } from "./livesAskedFor.ts";
import { lowerOnly, twoSidedConfidence } from "./oneSided.ts";
import { pooledShape } from "./pooledShape.ts";
import { sampleOf, settleAges } from "./settleAges.ts";
import { failureDefinition, provenance, type ShopData, type StudyContext } from "./shopData.ts";
import { noSteps } from "./survivalSteps.ts";
import type { Estimate, ItemLifeResult, Notice, StudyDefinition } from "./types.ts";
import { withinReason } from "./withinReason.ts";

/**
 * "How long does this item last, this mode?": Weibull maximum likelihood with likelihood-ratio bounds beside the
 * nonparametric curve, from the lives restored in scope. A mode that leads to another is fitted jointly with it.
 * Errors  "no-lives" where the scope holds no item with a failure mode; "bad-setting".
 */
export function runItemLife(definition: StudyDefinition, data: ShopData, context: StudyContext): ItemLifeResult {
  const { scope, lives, noInformation, excluded, settled, longestAge, statedAge, link, ofMode } = livesAskedFor(
    definition,
    data,
  );
  const confidence = twoSidedConfidence(definition);
  const counts = countLives(lives, noInformation.length, excluded.length);
  const joint =
    link &&
    fittedOnce(data, JSON.stringify([scope, definition.missingHours, confidence]), () =>
      fitJointly(link, ofMode(link.defect), ofMode(link.failure), data, { ...definition, confidence }),
    );
  // A look that happened because the defect had led to a failure tells too much about the defect alone: it is read from
  // the joint fit, and no step curve of it alone is drawn. The failure itself announces its age and stands alone.
  const isDefect = link?.defect === scope.mode;
  const answer =
    joint && isDefect
      ? answerJointly(joint, statedAge, longestAge, confidence, definition)
      : answerAlone({
          settled,
          statedAge,
          longestAge,
          confidence,
          definition,
          pooled: () => pooledShape(data, definition, settled),
          onShare: context.onShare,
        });
  const usualFit = answer.fit?.distribution === "weibull" && answer.shapeTaken === null;
  const sensitivity = isDefect || !usualFit ? [] : otherTreatments(definition, data, lives, answer.readings);
  const far = (estimate: Estimate) => withinReason(estimate, longestAge);
  const { b10, median: half, mean } = answer.readings;
  const readings = { ...answer.readings, b10: far(b10), median: far(half), mean: far(mean) };
  const bounded = {
    fit: answer.fit && { ...answer.fit, scale: far(answer.fit.scale) },
    readings,
    survival: answer.survival,
    bounds: answer.bounds,
    linked: joint?.linked ?? null,
  };

  return {
    kind: "item life",
    definition,
    provenance: provenance(data, definition, context),
    scope,
    item: scope.item,
    mode: scope.mode,
    toolTypes: distinct(lives.map(({ toolType }) => toolType)).sort(),
    sizesIn: distinct(lives.flatMap(({ sizeIn }) => (sizeIn === null ? [] : [sizeIn]))).sort((a, b) => a - b),
    failureDefinition: failureDefinition(data, scope, definition, context),
    counts,
    excluded: tally(excluded),
    noInformation: tally(noInformation),
    ...(definition.sides === "lower" ? lowerOnly(bounded, definition.confidence) : bounded),
    shapeTaken: answer.shapeTaken,
    longestAge,
    nonparametric: {
      method: answer.steps.method,
      boundsMethod: answer.steps.boundsMethod,
      steps: answer.steps.steps,
      band: answer.steps.band,
    },
    plotPoints: answer.plotPoints,
    laws: answer.sample ? compareLaws(answer.sample, statedAge, definition.law) : [],
    histories: lifeHistories(lives, link?.defect === scope.mode ? ofMode(link.failure) : []),
    sensitivity,
    notices: itemLifeNotices({
      definition,
      data,
      context,
      scope,
      lives,
      bounds: answer.bounds,
      ofTheAnswer: answer.notices,
      excluded,
      counts,
      maximum: answer.maximum,
      law: answer.law,
      readings,
      longestAge,
      steps: answer.steps,
      linked: joint?.linked ?? null,
      sensitivity,
    }),
  };
}

const jointFits = new WeakMap<ShopData, Map<string, JointFit | null>>();
const MOST_JOINT_FITS = 50;

/** A joint fit takes seconds; another law, other bounds or another stated age of the same lives need no new one. */
function fittedOnce(data: ShopData, key: string, compute: () => JointFit | null): JointFit | null {
  const known = jointFits.get(data) ?? new Map<string, JointFit | null>();
  jointFits.set(data, known);
  const before = known.get(key);
  if (before !== undefined) return before;
  if (known.size >= MOST_JOINT_FITS) known.clear();
  const joint = compute();
  known.set(key, joint);
  return joint;
}

function answerJointly(
  joint: JointFit,
  statedAge: number,
  longestAge: number,
  confidence: number,
  { bounds, shape }: StudyDefinition,
): Answer {
  const notices: Notice[] = [
    ...(bounds === undefined || bounds === "likelihood ratio"
      ? []
      : [{ code: "bounds-not-as-asked" as const, facts: { asked: bounds, why: "linked modes" } }]),
    ...(shape === undefined ? [] : [{ code: "shape-not-taken" as const, facts: { why: "linked modes" } }]),
  ];
  const read = jointReadings(joint, statedAge, confidence);
  return {
    maximum: joint.fit.maximum,
    fit: read?.fit ?? null,
    readings: read?.readings ?? noReadings(joint.fit.maximum, statedAge, confidence),
    law: joint.defect && weibull(joint.defect.law),
    survival: joint.defect
      ? jointSurvival(joint, gridOfAges(weibull(joint.defect.law).quantile(0.5), longestAge))
      : null,
    plotPoints: [],
    steps: noSteps,
    sample: null,
    bounds: usualBounds,
    shapeTaken: null,
    notices,
  };
}

/** The same fit under the other treatments of missing hours; listed where one moves B10 or median by more than 5 %. */
function otherTreatments(
  definition: StudyDefinition,
  data: ShopData,
  lives: readonly Life[],
  readings: ItemLifeResult["readings"],
): ItemLifeResult["sensitivity"] {
  if (
    !lives.some(({ rangeBecause }) => rangeBecause === "hours missing") ||
    readings.b10.value === null ||
    readings.median.value === null
  )
    return [];
  const rows = (["shop rate", "averaged", "all low", "all high", "left out"] as const)
    .filter((missingHours) => missingHours !== definition.missingHours)
    .map((missingHours) => {
      const settled = settleAges(lives, missingHours, data.hoursPerDay);
      const fit = settled.length > 0 ? fitWeibull(sampleOf(settled)) : null;
      const law = fit?.maximum === "found" ? weibull({ shape: fit.shape, scale: fit.scale }) : null;
      return { missingHours, b10: law?.quantile(0.1) ?? null, median: law?.quantile(0.5) ?? null };
    });
  const moved = (other: number | null, here: number | null) =>
    other === null || here === null || Math.abs(other / here - 1) > 0.05;
  return rows.some((row) => moved(row.b10, readings.b10.value) || moved(row.median, readings.median.value)) ? rows : [];
}

const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

function tally(rows: readonly { readonly reason: string }[]): { reason: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const { reason } of rows) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => ({ reason, count })).sort((a, b) => b.count - a.count);
}
