import { median } from "simple-statistics";
import type { LifeLaw } from "../distributions/lifeLaw.ts";
import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import type { LawMaximum } from "../estimation/fitLaw.ts";
import { fitWeibull } from "../estimation/fitWeibull.ts";
import { weibullBounds } from "../estimation/profileBounds.ts";
import { survivalBand } from "../estimation/survivalBand.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { WeibullQuantity } from "../estimation/weibullQuantity.ts";
import type { Excluded, Life, NoInformation } from "../lives/types.ts";
import { probabilityPlot } from "../nonparametric/probabilityPlot.ts";
import { answerByLaw } from "./answerByLaw.ts";
import { compareLaws } from "./compareLaws.ts";
import { fitJointly, type JointFit, jointReadings, jointSurvival } from "./fitJointly.ts";
import { itemLifeNotices } from "./itemLifeNotices.ts";
import { countLives } from "./lifeCounts.ts";
import { lifeHistories } from "./lifeHistories.ts";
import { type SettledLife, sampleOf, settleAges } from "./settleAges.ts";
import { shareStillGood } from "./shareStillGood.ts";
import {
  begunWith,
  betweenDates,
  failureDefinition,
  inScope,
  provenance,
  type ShopData,
  type StudyContext,
} from "./shopData.ts";
import { noSteps, type Steps, survivalSteps } from "./survivalSteps.ts";
import type { Estimate, ItemLifeResult, StudyDefinition } from "./types.ts";
import { withinReason } from "./withinReason.ts";

const GRID = 72;

/**
 * "How long does this item last, this mode?": Weibull maximum likelihood with likelihood-ratio bounds beside the
 * nonparametric curve, from the lives restored in scope. A mode that leads to another is fitted jointly with it.
 * Errors  "no-lives" where the scope holds no item with a failure mode; "bad-setting".
 */
export function runItemLife(definition: StudyDefinition, data: ShopData, context: StudyContext): ItemLifeResult {
  const scope = chooseItem(definition, data);
  const { confidence } = definition;
  const inside = <R extends Life | NoInformation | Excluded>(row: R): boolean =>
    inScope(scope, row) && betweenDates(scope.from, scope.to, row.sinceOn);
  const lives = data.derived.lives.filter((life) => inside(life) && begunWith(data, scope.customer, life.runs));
  const ofCustomer = ({ rows }: NoInformation | Excluded) =>
    begunWith(
      data,
      scope.customer,
      rows.filter(({ table }) => table === "runs").map((row) => ({ row })),
    );
  const noInformation = data.derived.noInformationYet.filter((row) => inside(row) && ofCustomer(row));
  const excluded = data.derived.excluded.filter((row) => inside(row) && ofCustomer(row));

  const settled = settleAges(lives, definition.missingHours, data.hoursPerDay);
  const longestAge = settled.reduce((most, { lower, upper }) => Math.max(most, upper ?? lower), 0);
  const statedAge = definition.statedAge ?? usualAge(settled);
  const counts = countLives(lives, noInformation.length, excluded.length);
  const link = linkOf(data, lives, scope);
  const ofMode = (mode: string) =>
    mode === scope.mode
      ? lives
      : data.derived.lives.filter(
          (life) =>
            inScope({ ...scope, mode }, life) &&
            betweenDates(scope.from, scope.to, life.sinceOn) &&
            begunWith(data, scope.customer, life.runs),
        );
  const joint = link && fitJointly(link, ofMode(link.defect), ofMode(link.failure), data, definition);
  // A look that happened because the defect had led to a failure tells too much about the defect alone: it is read from
  // the joint fit, and no step curve of it alone is drawn. The failure itself announces its age and stands alone.
  const answer =
    joint && link.defect === scope.mode
      ? answerJointly(joint, statedAge, longestAge, confidence)
      : answerAlone(settled, statedAge, longestAge, definition);
  const sensitivity =
    link?.defect === scope.mode || (answer.fit !== null && answer.fit.distribution !== "weibull")
      ? []
      : otherTreatments(definition, data, lives, answer.readings);
  const far = (estimate: Estimate) => withinReason(estimate, longestAge);
  const { b10, median: half, mean } = answer.readings;
  const readings = { ...answer.readings, b10: far(b10), median: far(half), mean: far(mean) };

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
    fit: answer.fit && { ...answer.fit, scale: far(answer.fit.scale) },
    readings,
    survival: answer.survival,
    longestAge,
    nonparametric: { method: answer.steps.method, boundsMethod: answer.steps.boundsMethod, steps: answer.steps.steps },
    plotPoints: answer.plotPoints,
    laws: answer.sample ? compareLaws(answer.sample, statedAge, definition.law) : [],
    linked: joint?.linked ?? null,
    histories: lifeHistories(lives, link?.defect === scope.mode ? ofMode(link.failure) : []),
    sensitivity,
    notices: itemLifeNotices({
      definition,
      data,
      context,
      scope,
      lives,
      settled,
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

/** What the lives say: fit, readings, line, steps, or why they say nothing. */
interface Answer extends Pick<ItemLifeResult, "fit" | "readings" | "survival" | "plotPoints"> {
  readonly maximum: LawMaximum;
  readonly law: Pick<LifeLaw, "survival" | "cumulativeHazard"> | null;
  readonly steps: Steps;
  /** The lives as fitted; null for a joint fit or no lives. */
  readonly sample: LifeSample | null;
}

function answerAlone(
  settled: readonly SettledLife[],
  statedAge: number,
  longestAge: number,
  { confidence, law: choice = "weibull" }: StudyDefinition,
): Answer {
  const steps = survivalSteps(settled, confidence);
  const sample = settled.length > 0 ? sampleOf(settled) : null;
  const plotPoints = sample && settled.some(({ upper }) => upper !== null) ? probabilityPlot(steps.sample) : [];
  const withoutMaximum = (maximum: LawMaximum): Answer => {
    const none = noReadings(maximum, statedAge, confidence);
    const reliability =
      maximum === "no failures"
        ? successRun(settled, statedAge, confidence)
        : (shareStillGood(settled, statedAge, confidence) ?? none.reliability);
    const readings = { ...none, reliability };
    return { maximum, fit: null, law: null, readings, survival: null, plotPoints, steps, sample };
  };
  if (sample && choice !== "weibull") {
    const chosen = answerByLaw(sample, choice, statedAge, confidence, (half) => gridOfAges(half, longestAge));
    return typeof chosen === "string"
      ? withoutMaximum(chosen)
      : { maximum: "found", ...chosen, plotPoints, steps, sample };
  }
  const fitted = sample ? fitWeibull(sample) : null;
  if (!sample || fitted?.maximum !== "found") return withoutMaximum(fitted?.maximum ?? "no failures");
  const { shape, scale, logLikelihood, iterations, largestScore } = fitted;
  const law = weibull({ shape, scale });
  const read = (value: number, quantity: WeibullQuantity, unit: Estimate["unit"]): Estimate => {
    const { lower, upper } = weibullBounds(fitted, sample, quantity, confidence);
    return { value, lower, upper, confidence, method: "likelihood ratio", unit };
  };
  const { age, value, lower, upper } = survivalBand(
    fitted,
    sample,
    gridOfAges(law.quantile(0.5), longestAge),
    confidence,
  );
  return {
    maximum: "found",
    law,
    fit: {
      distribution: "weibull",
      shape: read(shape, { kind: "shape" }, "none"),
      scale: read(scale, { kind: "scale" }, "h"),
      logLikelihood,
      iterations,
      largestScore,
    },
    readings: {
      b10: read(law.quantile(0.1), { kind: "quantile", failedFraction: 0.1 }, "h"),
      median: read(law.quantile(0.5), { kind: "quantile", failedFraction: 0.5 }, "h"),
      mean: read(law.mean, { kind: "mean" }, "h"),
      statedAge,
      reliability: read(law.survival(statedAge), { kind: "survival", age: statedAge }, "fraction"),
    },
    survival: { age, value, lower, upper },
    plotPoints,
    steps,
    sample,
  };
}

/**
 * Without a failure no law can be fitted, but n lives followed to an age without one still bound the survival there:
 * lower = a^(1/n), a = (1 - confidence) / 2 so that the two-sided level is kept.
 * Source  Clopper & Pearson (1934), Biometrika 26, 404-413, no failures.
 */
function successRun(settled: readonly SettledLife[], age: number, confidence: number): Estimate {
  const n = settled.filter(({ lower, entry }) => lower >= age && entry === 0).length;
  const lower = n === 0 ? null : ((1 - confidence) / 2) ** (1 / n);
  return {
    value: null,
    lower,
    upper: null,
    confidence,
    method: n === 0 ? "none" : "success run",
    unit: "fraction",
    why: "no failures",
  };
}

function answerJointly(joint: JointFit, statedAge: number, longestAge: number, confidence: number): Answer {
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
  };
}

function noReadings(maximum: LawMaximum, statedAge: number, confidence: number): ItemLifeResult["readings"] {
  const why = maximum === "no failures" ? "no failures" : "no maximum";
  const none = (unit: Estimate["unit"]): Estimate => ({
    value: null,
    lower: null,
    upper: null,
    confidence,
    method: "none",
    unit,
    why,
  });
  return { b10: none("h"), median: none("h"), mean: none("h"), statedAge, reliability: none("fraction") };
}

/** The pair of modes that this one belongs to, where it leads to another or another leads to it. */
function linkOf(
  data: ShopData,
  lives: readonly Life[],
  { item, mode }: ChosenScope,
): { defect: string; failure: string } | null {
  const modes = lives[0] ? data.modesOf(lives[0].toolType, item) : [];
  const leadsTo = modes.find((one) => one.mode === mode)?.leadsTo;
  if (leadsTo != null) return { defect: mode, failure: leadsTo };
  const defect = modes.find((one) => one.leadsTo === mode)?.mode;
  return defect === undefined ? null : { defect, failure: mode };
}

export type ChosenScope = ItemLifeResult["scope"] & { readonly item: string; readonly mode: string };

/** The item and mode asked for; where left open, the one with most failures in scope. */
function chooseItem({ scope }: StudyDefinition, data: ShopData): ChosenScope {
  const { item, mode } = scope;
  if (item !== null && mode !== null) return { ...scope, item, mode };
  const failures = new Map<string, { item: string; mode: string; count: number }>();
  const wanted = { ...scope, from: null, to: null };
  for (const life of data.derived.lives) {
    if (!inScope(wanted, life)) continue;
    const key = `${life.item}\u0000${life.mode}`;
    const entry = failures.get(key) ?? { item: life.item, mode: life.mode, count: 0 };
    if (life.kind !== "right") entry.count++;
    failures.set(key, entry);
  }
  const most = [...failures.values()].sort(
    (a, b) => b.count - a.count || (a.item + a.mode < b.item + b.mode ? -1 : 1),
  )[0];
  if (!most) throw new AnalysisError("no-lives", { item, mode, tool_type: scope.toolType });
  return { ...scope, item: most.item, mode: most.mode };
}

/** Ages from 0 to a quarter beyond experience, so that the page can show where the line leaves it. */
function gridOfAges(median: number, longest: number): number[] {
  const last = Math.max(longest * 1.25, Math.min(median * 1.1, longest * 2));
  return Array.from({ length: GRID }, (_, index) => (last * index) / (GRID - 1));
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

/** The middle length of a life in scope, to ten hours: the age at which reliability is stated unless another is asked. */
function usualAge(settled: readonly SettledLife[]): number {
  if (settled.length === 0) return 100;
  return Math.max(10, Math.round(median(settled.map(({ lower, upper }) => upper ?? lower)) / 10) * 10);
}

const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

function tally(rows: readonly { readonly reason: string }[]): { reason: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const { reason } of rows) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => ({ reason, count })).sort((a, b) => b.count - a.count);
}
