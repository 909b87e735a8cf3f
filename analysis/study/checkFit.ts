import { lawFromTheta } from "../distributions/lifeLaw.ts";
import { driftBetweenPeriods } from "../estimation/checks/driftBetweenPeriods.ts";
import { goodnessOfFit, type TestedFamily, weibullFamily } from "../estimation/checks/goodnessOfFit.ts";
import { influenceOfFailures } from "../estimation/checks/influenceOfFailures.ts";
import { renewalCheck } from "../estimation/checks/renewalCheck.ts";
import { twoPatternsTest } from "../estimation/checks/twoPatternsTest.ts";
import type { EstimationNotice } from "../estimation/estimationNotice.ts";
import { fitLaw } from "../estimation/fitLaw.ts";
import { fitWeibull, type WeibullFound } from "../estimation/fitWeibull.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { Life } from "../lives/types.ts";
import { comparedGroup, ratioEstimate } from "./comparedGroup.ts";
import { lookAges } from "./lookAges.ts";
import type { FitChecks } from "./partTypes.ts";
import type { PartContext } from "./runLifePart.ts";
import { type SettledLife, sampleOf } from "./settleAges.ts";
import type { StudyDefinition } from "./types.ts";

const SIMULATIONS = { goodness: 199, twoPatterns: 99 } as const;
/** Of the time: what is done when the goodness of fit is. */
const AFTER_GOODNESS = 0.4;
const MOST_INFLUENTIAL = 8;

/**
 * Every check of a fitted curve: does it fit, are two patterns mixed, has it drifted, is the tenth restoration like the first, does a
 * single failure decide? Goodness is of the law that is read, all else of the Weibull law.
 */
export function checkFit({ definition, data, asked, isDefect, common, onShare }: PartContext): FitChecks {
  const nothing: FitChecks = {
    kind: "checks",
    ...common,
    why: isDefect ? "linked modes" : "no fit",
    notices: [],
    goodness: null,
    twoPatterns: null,
    twoPatternsWhy: null,
    drift: null,
    renewal: null,
    influence: [],
  };
  const { settled } = asked;
  if (isDefect || settled.length === 0) return nothing;
  const sample = sampleOf(settled);
  const fit = fitWeibull(sample);
  if (fit.maximum !== "found") return nothing;
  const { seed, confidence } = definition;
  const looks = lookAges(settled, data);
  const family = familyOf(definition, sample, fit);
  const notices: EstimationNotice[] = [];

  const goodness =
    family &&
    goodnessOfFit(sample, family, {
      looks,
      simulations: SIMULATIONS.goodness,
      seed,
      onShare: (share) => onShare(AFTER_GOODNESS * share),
    });
  if (goodness) notices.push(...goodness.notices);
  const late = settled.some(({ entry }) => entry > 0);
  const two = late
    ? null
    : twoPatternsTest(sample, fit, {
        looks,
        simulations: SIMULATIONS.twoPatterns,
        seed,
        onShare: (share) => onShare(AFTER_GOODNESS + (0.98 - AFTER_GOODNESS) * share),
      });
  if (two) notices.push(...two.notices);
  const influence = influenceOfFailures(fit, sample);
  notices.push(...influence.notices.slice(0, 1));
  const lifeOf = (row: number): Life | undefined => settled[row]?.life;
  return {
    ...nothing,
    why: null,
    goodness: goodness && {
      pValue: goodness.pValue,
      simulations: goodness.simulations - goodness.withoutMaximum,
      monteCarloError: goodness.monteCarloError,
    },
    twoPatterns:
      two?.patterns && two.pValue !== null
        ? {
            pValue: two.pValue,
            simulations: two.simulations - two.withoutMaximum,
            earlyFraction: two.patterns.earlyFraction,
            early: { shape: two.patterns.early.shape, scale: two.patterns.early.scale },
            main: { shape: two.patterns.main.shape, scale: two.patterns.main.scale },
          }
        : null,
    twoPatternsWhy: late ? "late entry" : two?.patterns ? null : "no maximum",
    drift: drift(settled, sample, confidence),
    renewal: renewal(settled, sample, confidence, ordinals(settled, data.derived)),
    influence: influence.failures.slice(0, MOST_INFLUENTIAL).flatMap(({ row, b10Ratio, without }) => {
      const life = lifeOf(row);
      return life
        ? [{ lifeId: life.id, serial: life.serial, sinceOn: life.sinceOn, b10Without: without.b10, b10Ratio }]
        : [];
    }),
    notices,
  };
}

/** The law that is read, and how it is fitted anew; null where these lives do not settle it. */
function familyOf({ law = "weibull" }: StudyDefinition, sample: LifeSample, fit: WeibullFound): TestedFamily | null {
  if (law === "weibull") return weibullFamily({ shape: fit.shape, scale: fit.scale });
  const refit: TestedFamily["refit"] = (lives) => {
    const again = fitLaw(lives, law);
    return again.maximum === "found" ? lawFromTheta(law, again.theta) : null;
  };
  const own = refit(sample);
  return own && { law: own, refit };
}

/** Split at the date that halves the lives; none where all were restored on one date. */
function drift(settled: readonly SettledLife[], sample: LifeSample, confidence: number): FitChecks["drift"] {
  const dates = settled.map(({ life }) => life.sinceOn);
  const splitOn = [...dates].sort()[Math.floor(dates.length / 2)];
  if (splitOn === undefined) return null;
  const found = driftBetweenPeriods(sample, dates, splitOn, confidence);
  if (!found.isComparable) return null;
  const side = (name: string, index: number, isIn: (date: string) => boolean) =>
    comparedGroup(name, settled.filter(({ life }) => isIn(life.sinceOn)).length, found.comparison.groups[index]);
  return {
    splitOn,
    groups: [side("before", 0, (date) => date < splitOn), side("from", 1, (date) => date >= splitOn)],
    pValue: found.comparison.sameLaw.pValue,
    ratio: ratioEstimate(found.b10Ratio),
  };
}

function renewal(
  settled: readonly SettledLife[],
  sample: LifeSample,
  confidence: number,
  ordinal: readonly number[],
): FitChecks["renewal"] {
  const check = renewalCheck(sample, ordinal, confidence);
  if (check.comparison === null) return null;
  const { tenthOverFirst } = check;
  return {
    strata: check.strata.map(({ from, to, lives }) => ({
      from,
      to,
      lives,
      failures: settled.filter(
        ({ upper }, row) => upper !== null && (ordinal[row] ?? 0) >= from && (to === null || (ordinal[row] ?? 0) <= to),
      ).length,
    })),
    pValue: check.trend?.maximum === "found" ? check.trend.pValue : null,
    tenthOverFirst: tenthOverFirst && {
      ...tenthOverFirst,
      confidence,
      method: "likelihood ratio",
      unit: "none",
    },
  };
}

/** First, second, ... restoration of this mode of the item on its serial, as far as the records go. */
function ordinals(settled: readonly SettledLife[], derived: PartContext["data"]["derived"]): number[] {
  const keyOf = ({ serial, item, mode }: { readonly serial: string; readonly item: string; readonly mode: string }) =>
    JSON.stringify([serial, item, mode]);
  const dates = new Map<string, string[]>();
  for (const row of [...derived.lives, ...derived.noInformationYet, ...derived.excluded]) {
    const known = dates.get(keyOf(row));
    if (known) known.push(row.sinceOn);
    else dates.set(keyOf(row), [row.sinceOn]);
  }
  return settled.map(({ life }) => 1 + (dates.get(keyOf(life)) ?? []).filter((date) => date < life.sinceOn).length);
}
