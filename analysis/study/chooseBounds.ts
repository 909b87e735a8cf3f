import { bootstrapWeibull } from "../estimation/bootstrap/bootstrapWeibull.ts";
import type { WeibullFound } from "../estimation/fitWeibull.ts";
import type { LifeSample } from "../estimation/types.ts";
import { TOOLS_DIFFER } from "./serialsAlike.ts";
import type { SettledLife } from "./settleAges.ts";
import type { BoundsUsed, Notice, StudyDefinition } from "./types.ts";
import { type BoundsMethod, byLikelihoodRatio, bySerial, byWald, readB10 } from "./weibullReadings.ts";

/** Resamples of a study. */
export const RESAMPLES = 2_000;
/** The first of them tell whether resampling works here. */
const PILOT = 100;
/** More than this share without a maximum, and what is left of the resamples would flatter the bounds. Own choice, no source. */
const MOST_WITHOUT = 0.1;
/** With fewer tools a resample repeats the few it has, and bounds come out short. Common practice, no source. */
const FEWEST_SERIALS = 10;
/** With fewer failures its lower bound claims too much more often than the likelihood ratio's (tests/studies/results/coverage-study.md). */
const FEWEST_FAILURES = 10;

export interface ChosenBounds {
  readonly bounds: BoundsMethod;
  readonly used: BoundsUsed;
  readonly notices: readonly Notice[];
}

/**
 * How a Weibull fit is bounded: as asked for; else by likelihood ratio, or by serial where the tools are shown to differ, since lives of
 * one tool are then no separate evidence.
 *
 * @param serialsAlike  p-value of "all serials last alike", null where it was not tested.
 * @param confidence    Two-sided.
 */
export function chooseBounds(
  settled: readonly SettledLife[],
  sample: LifeSample,
  fit: WeibullFound,
  serialsAlike: number | null,
  confidence: number,
  { bounds: asked, seed }: Pick<StudyDefinition, "bounds" | "seed">,
  onShare?: (share: number) => void,
): ChosenBounds {
  const serials = settled.map(({ life }) => life.serial);
  const count = new Set(serials).size;
  const toolsDiffer =
    serialsAlike !== null &&
    serialsAlike < TOOLS_DIFFER &&
    count >= FEWEST_SERIALS &&
    fit.counts.failures >= FEWEST_FAILURES;
  const separate = byLikelihoodRatio(fit, sample, confidence);
  const usual: ChosenBounds = {
    bounds: separate,
    used: {
      method: "likelihood ratio",
      why: asked === "likelihood ratio" ? "asked for" : "usual",
      serialsAlike,
      bySerial: null,
    },
    notices: [],
  };
  if (asked === "Wald")
    return {
      bounds: byWald(fit, confidence),
      used: { method: "Wald", why: "asked for", serialsAlike, bySerial: null },
      notices: [],
    };
  if (asked === "likelihood ratio" || (asked === undefined && !toolsDiffer)) return usual;

  const notHad = (why: string): ChosenBounds => ({
    ...usual,
    notices: [{ code: "bounds-not-as-asked", facts: { asked: "by serial", why } }],
  });
  if (count < 2) return notHad("one serial");
  const pilot = bootstrapWeibull(sample, fit, serials, { resamples: PILOT, seed });
  if (pilot.shape.length < (1 - MOST_WITHOUT) * PILOT) return notHad("resamples without a maximum");
  const replicates = bootstrapWeibull(sample, fit, serials, {
    resamples: RESAMPLES,
    seed,
    ...(onShare === undefined ? {} : { onShare }),
  });
  return {
    bounds: bySerial(fit, replicates, confidence),
    used: {
      method: "by serial",
      why: asked === undefined ? "tools differ" : "asked for",
      serialsAlike,
      bySerial: {
        serials: replicates.groups,
        resamples: replicates.resamples,
        withoutMaximum: replicates.resamples - replicates.shape.length,
        b10IfSeparate: readB10(fit, separate, confidence),
      },
    },
    notices: replicates.notices,
  };
}
