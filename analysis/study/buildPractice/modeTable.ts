import { weibull } from "../../distributions/weibull.ts";
import { fitWeibull } from "../../estimation/fitWeibull.ts";
import type { LinkedHistory } from "../../estimation/linked/types.ts";
import type { Life } from "../../lives/types.ts";
import { ageingFactor } from "../../mechanics/thermalAgeing.ts";
import type { BuildFacts } from "../../practice/explain/buildFacts.ts";
import { type ConditionsUpTo, conditionsUpTo } from "../../practice/explain/runConditions.ts";
import type { Fitter } from "../../practice/screen/fitter.ts";
import { lifeFitter } from "../../practice/screen/lifeFitter.ts";
import { linkedFitter } from "../../practice/screen/linkedFitter.ts";
import { memorylessDelay } from "../../practice/screen/memorylessDelay.ts";
import type { RegressionLaw } from "../../practice/types.ts";
import type { Row } from "../../records/descriptor.ts";
import { linkedHistories } from "../linkedHistories.ts";
import { type SettledLife, sampleOf, settleAges } from "../settleAges.ts";
import type { ShopData } from "../shopData.ts";
import type { StudyDefinition } from "../types.ts";

/** One life of a mode with all that may explain it. */
export interface ModeRow {
  readonly life: Life;
  readonly failed: boolean;
  /** Last age known good, first age known failed, age at which it came under observation. */
  readonly lower: number;
  readonly upper: number | null;
  readonly entry: number;
  readonly facts: BuildFacts;
  /** Cumulated up to the age where this life's story ends. */
  readonly conditions: ConditionsUpTo;
  readonly customer: string | null;
  /** Failures that a life of this length has on average. */
  readonly expected: number;
}

/** The lives of one failure mode, of every item that the mode is listed for. */
export interface ModeTable {
  readonly item: string;
  readonly mode: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly items: readonly string[];
  readonly leadsTo: string | null;
  readonly rows: readonly ModeRow[];
  /** Weibull shape of the defect where the mode leads to another, fitted together with the delay; null for other modes. */
  readonly linkedShape: number | null;
  /** Failures could be followed: without any there is nothing to compare. */
  readonly failures: number;
  /** Regression over some of the rows; null where no model of them has a maximum. */
  readonly fitterOf: (rows: readonly number[], law?: RegressionLaw) => Fitter | null;
}

export interface ModeLives {
  readonly item: string;
  readonly mode: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly lives: readonly Life[];
}

/** Temperature at which an hour counts as one thermal hour: a mild well. */
const REFERENCE_CELSIUS = 110;

/** Lays out the lives of a mode for comparison. */
export function modeTable(
  group: ModeLives,
  all: readonly ModeLives[],
  data: ShopData,
  { missingHours }: StudyDefinition,
  factsOf: (life: Life) => BuildFacts,
): ModeTable {
  const { item, mode, kind, lives } = group;
  const leadsTo = lives[0]
    ? (data.modesOf(lives[0].toolType, lives[0].item).find((one) => one.mode === mode)?.leadsTo ?? null)
    : null;
  const failureLives =
    leadsTo === null ? [] : (all.find((one) => one.item === item && one.mode === leadsTo)?.lives ?? []);
  const body =
    leadsTo === null
      ? aloneBody(settleAges(lives, missingHours, data.hoursPerDay))
      : linkedBody(lives, failureLives, data, missingHours);
  const rows = body.rows.map(({ life, lower, upper, entry, expected }): ModeRow => {
    const first = life.runs[0] && data.runOf(life.runs[0].row.key);
    return {
      life,
      failed: upper !== null,
      lower,
      upper,
      entry,
      expected,
      facts: factsOf(life),
      conditions: conditionsUpTo(life, upper ?? lower, data.runOf, (celsius) =>
        ageingFactor(celsius, REFERENCE_CELSIUS),
      ),
      customer: first?.customer ?? null,
    };
  });
  return {
    item,
    mode,
    kind,
    items: [...new Set(lives.map((life) => life.item))].sort(),
    leadsTo,
    rows,
    linkedShape: body.linkedShape,
    failures: rows.filter(({ failed }) => failed).length,
    fitterOf: (wanted, law) =>
      body.fitterOf(
        wanted,
        wanted.map((index) => rows[index]!.life.serial),
        law,
      ),
  };
}

interface Body {
  readonly linkedShape: number | null;
  readonly rows: readonly {
    readonly life: Life;
    readonly lower: number;
    readonly upper: number | null;
    readonly entry: number;
    readonly expected: number;
  }[];
  readonly fitterOf: (rows: readonly number[], serials: readonly string[], law?: RegressionLaw) => Fitter | null;
}

function aloneBody(settled: readonly SettledLife[]): Body {
  const fit = settled.length > 0 ? fitWeibull(sampleOf(settled)) : null;
  const law = fit?.maximum === "found" ? weibull({ shape: fit.shape, scale: fit.scale }) : null;
  const hazard = (age: number) => (law === null ? age : law.cumulativeHazard(age));
  return {
    linkedShape: null,
    rows: settled.map(({ life, lower, upper, entry }) => ({
      life,
      lower,
      upper,
      entry,
      expected: Math.max(0, hazard(upper ?? lower) - hazard(entry)),
    })),
    fitterOf: (rows, serials, regressionLaw) =>
      rows.length === 0 ? null : lifeFitter(sampleOf(rows.map((index) => settled[index]!)), serials, regressionLaw),
  };
}

function linkedBody(
  defects: readonly Life[],
  failures: readonly Life[],
  data: ShopData,
  missingHours: StudyDefinition["missingHours"],
): Body {
  const { histories, lives } = linkedHistories(defects, failures, data, missingHours);
  const base = memorylessDelay(histories);
  const law = base && weibull({ shape: Math.exp(base.theta[0]), scale: Math.exp(base.theta[1]) });
  const hazard = (age: number) => (law === null ? age : law.cumulativeHazard(age));
  const ends = ({ defect, failure }: LinkedHistory) => ({
    lower: Math.max(defect.from, defect.to === null ? failure.from : 0),
    upper: defect.to,
  });
  return {
    linkedShape: law?.shape ?? null,
    rows: histories.map((history, index) => {
      const { lower, upper } = ends(history);
      return {
        life: lives[index]!,
        lower,
        upper,
        entry: history.entry,
        expected: Math.max(0, hazard(upper ?? lower) - hazard(history.entry)),
      };
    }),
    fitterOf: (rows, serials) =>
      base &&
      linkedFitter(
        rows.map((index) => histories[index]!),
        serials,
        base,
      ),
  };
}
