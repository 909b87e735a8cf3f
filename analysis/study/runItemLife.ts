import { weibull } from "../distributions/weibull.ts";
import { AnalysisError } from "../errors.ts";
import { fitWeibull, type WeibullFit, type WeibullFound } from "../estimation/fitWeibull.ts";
import { lifeSample } from "../estimation/lifeSample.ts";
import { weibullBounds } from "../estimation/profileBounds.ts";
import { survivalBand } from "../estimation/survivalBand.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { WeibullQuantity } from "../estimation/weibullQuantity.ts";
import type { Excluded, Life, NoInformation } from "../lives/types.ts";
import { probabilityPlot } from "../nonparametric/probabilityPlot.ts";
import { itemLifeNotices } from "./itemLifeNotices.ts";
import { countLives } from "./lifeCounts.ts";
import { type SettledLife, settleAges } from "./settleAges.ts";
import {
  begunWith,
  betweenDates,
  failureDefinition,
  inScope,
  provenance,
  type ShopData,
  type StudyContext,
} from "./shopData.ts";
import { survivalSteps } from "./survivalSteps.ts";
import type { CurveOnGrid, Estimate, ItemLifeResult, StudyDefinition } from "./types.ts";

/** A page draws up to this many histories; all lives stay in the counts and the fit. */
const MOST_HISTORIES = 2_000;
const GRID = 72;

/**
 * "How long does this item last, this mode?": Weibull maximum likelihood with likelihood-ratio bounds beside the
 * nonparametric curve, from the lives restored in scope.
 * Errors  "no-lives" where the scope holds no item with a failure mode; "bad-setting".
 */
export function runItemLife(definition: StudyDefinition, data: ShopData, context: StudyContext): ItemLifeResult {
  const scope = chooseItem(definition, data);
  const { confidence } = definition;
  const inside = <R extends Life | NoInformation | Excluded>(row: R): boolean =>
    inScope(scope, row) && betweenDates(scope.from, scope.to, row.sinceOn);
  const lives = data.derived.lives.filter((life) => inside(life) && begunWith(data, scope.customer, life.runs));
  const noInformation = data.derived.noInformationYet.filter(inside);
  const excluded = data.derived.excluded.filter(inside);

  const settled = settleAges(lives, definition.missingHours, data.hoursPerDay);
  const longestAge = settled.reduce((most, { lower, upper }) => Math.max(most, upper ?? lower), 0);
  const statedAge = definition.statedAge ?? usualAge(settled);
  const sample = settled.length > 0 ? sampleOf(settled) : null;
  const fitted = sample ? fitWeibull(sample) : null;
  const found = fitted?.maximum === "found" ? fitted : null;
  const readings = readingsOf(found, sample, fitted, statedAge, confidence);
  const steps = survivalSteps(settled, confidence);
  const survival = found && sample ? survivalBand(found, sample, gridOfAges(found, longestAge), confidence) : null;
  const counts = countLives(lives, noInformation.length, excluded.length);
  const sensitivity = otherTreatments(definition, data, lives, readings);

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
    fit:
      found && sample
        ? {
            distribution: "weibull",
            shape: estimate(found.shape, found, sample, { kind: "shape" }, confidence, "none"),
            scale: estimate(found.scale, found, sample, { kind: "scale" }, confidence, "h"),
            logLikelihood: found.logLikelihood,
            iterations: found.iterations,
            largestScore: found.largestScore,
          }
        : null,
    readings,
    survival: survival && plainCurve(survival),
    longestAge,
    nonparametric: steps,
    plotPoints: sample && counts.failures > 0 ? probabilityPlot(steps.sample) : [],
    histories: [...lives]
      .sort((a, b) => endOf(b) - endOf(a) || (a.id < b.id ? -1 : 1))
      .slice(0, MOST_HISTORIES)
      .map(({ id, serial, since, sinceOn, kind, lower, upper, entry, informative, looks, runs }) => ({
        lifeId: id,
        serial,
        since,
        sinceOn,
        kind,
        lower,
        upper,
        entry,
        informative,
        looks,
        runs,
      })),
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
      fitted,
      readings,
      longestAge,
      steps,
      sensitivity,
    }),
  };
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

export function sampleOf(settled: readonly SettledLife[]): LifeSample {
  return lifeSample({
    unit: "h",
    lives: settled.map(({ life, lower, lowerHigh, upper, upperHigh, entry }) => ({
      id: life.id,
      lower,
      lowerHigh,
      upper,
      upperHigh,
      entry,
    })),
  });
}

function readingsOf(
  found: WeibullFound | null,
  sample: LifeSample | null,
  fitted: WeibullFit | null,
  statedAge: number,
  confidence: number,
): ItemLifeResult["readings"] {
  if (!found || !sample) {
    const why = !fitted || fitted.maximum === "no failures" ? "no failures" : "no maximum";
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
  const law = weibull({ shape: found.shape, scale: found.scale });
  const read = (value: number, quantity: WeibullQuantity, unit: Estimate["unit"]) =>
    estimate(value, found, sample, quantity, confidence, unit);
  return {
    b10: read(law.quantile(0.1), { kind: "quantile", failedFraction: 0.1 }, "h"),
    median: read(law.quantile(0.5), { kind: "quantile", failedFraction: 0.5 }, "h"),
    mean: read(law.mean, { kind: "mean" }, "h"),
    statedAge,
    reliability: read(law.survival(statedAge), { kind: "survival", age: statedAge }, "fraction"),
  };
}

function estimate(
  value: number,
  found: WeibullFound,
  sample: LifeSample,
  quantity: WeibullQuantity,
  confidence: number,
  unit: Estimate["unit"],
): Estimate {
  const { lower, upper } = weibullBounds(found, sample, quantity, confidence);
  return { value, lower, upper, confidence, method: "likelihood ratio", unit };
}

/** Ages from 0 to a quarter beyond experience, so that the page can show where the line leaves it. */
function gridOfAges({ shape, scale }: WeibullFound, longest: number): number[] {
  const median = scale * Math.log(2) ** (1 / shape);
  const last = Math.max(longest * 1.25, Math.min(median * 1.1, longest * 2));
  return Array.from({ length: GRID }, (_, index) => (last * index) / (GRID - 1));
}

function plainCurve({ age, value, lower, upper }: CurveOnGrid): CurveOnGrid {
  return { age: [...age], value: [...value], lower: [...lower], upper: [...upper] };
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
  const ends = settled.map(({ lower, upper }) => upper ?? lower).sort((a, b) => a - b);
  const middle = ends[Math.floor(ends.length / 2)] ?? 100;
  return Math.max(10, Math.round(middle / 10) * 10);
}

const endOf = ({ lower, upper }: Life): number => {
  const age = upper ?? lower;
  return typeof age === "number" ? age : age[1];
};

const distinct = <T>(values: readonly T[]): T[] => [...new Set(values)];

function tally(rows: readonly { readonly reason: string }[]): { reason: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const { reason } of rows) counts.set(reason, (counts.get(reason) ?? 0) + 1);
  return [...counts].map(([reason, count]) => ({ reason, count })).sort((a, b) => b.count - a.count);
}
