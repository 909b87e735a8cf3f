import { drawByLikelihood, drawByNormal, drawConstantRate, evidentOrHidden } from "../decisions/drawLaws.ts";
import type { ModeLaw } from "../decisions/redressModel.ts";
import { lawFamilies } from "../distributions/lawFamilies.ts";
import { TEN } from "../distributions/lawPoint.ts";
import { randomStream } from "../estimation/bootstrap/randomStream.ts";
import { fitLaw } from "../estimation/fitLaw.ts";
import { lawLikelihood } from "../estimation/lawLikelihood.ts";
import { fitLinked } from "../estimation/linked/fitLinked.ts";
import { leaningDelay } from "../estimation/linked/leaningDelay.ts";
import type { ItemMode } from "../lives/episodes.ts";
import { contentHash } from "./contentHash.ts";
import { joinHistories } from "./linkedHistories.ts";
import { scopedLives } from "./scopedLives.ts";
import { type SettledLife, sampleOf, settleAges } from "./settleAges.ts";
import type { ShopData } from "./shopData.ts";
import type { Scope, StudyDefinition } from "./types.ts";

/** A mode, or a defect with the failure it leads to, as a decision uses it: its law, and laws the records allow as well. */
export interface FittedMode {
  readonly item: string;
  readonly mode: ItemMode;
  readonly defect: ItemMode | null;
  readonly fittedAs: "Weibull" | "both fitted together" | "constant rate";
  readonly law: ModeLaw;
  readonly draws: readonly ModeLaw[];
  /** Restorations followed. */
  readonly lives: number;
  readonly failures: number;
  readonly longestAge: number;
}

/** Draws of every law: enough for a 5 % point to within a hundredth of its level. */
export const DRAWS = 300;
/** The joint likelihood is an integral for every history: fewer proposals for each draw. */
const LINKED_PROPOSALS = 2;
/** From so many failures on the likelihood is as good as normal in the logarithms: its relative skew is below a tenth. Own choice, no source. */
const MANY = 150;
/** With fewer failures a shape is not fitted. Common practice, no source. */
const FEWEST = 3;

const known = new WeakMap<ShopData, Map<string, readonly FittedMode[]>>();

/**
 * Fits every mode of an item from the lives in scope. A defect that leads to a failure is one with it; where the pair has no
 * maximum, its two modes stand alone. A mode with fewer than three failures, or without a maximum, has a constant rate.
 * Modes of which nothing is known (no life in scope) are left out. The same data and question are fitted once.
 */
export function fitModes(
  data: ShopData,
  definition: StudyDefinition,
  toolType: string,
  item: string,
): readonly FittedMode[] {
  const { missingHours, seed } = definition;
  const scope: Scope = { ...definition.scope, toolType, item, mode: null, serial: null };
  const ofData = known.get(data) ?? new Map<string, readonly FittedMode[]>();
  known.set(data, ofData);
  const name = contentHash({ scope, missingHours, seed });
  const before = ofData.get(name);
  if (before) return before;

  const lives = scopedLives(data, scope);
  const ofMode = (mode: string): SettledLife[] =>
    settleAges(
      lives.filter((life) => life.mode === mode),
      missingHours,
      data.hoursPerDay,
    );
  const modes = data.modesOf(toolType, item);
  const settings = { item, seed, count: DRAWS };
  const pairs = modes.flatMap((defect) => {
    const failure = modes.find(({ mode }) => mode === defect.leadsTo);
    return failure === undefined
      ? []
      : [fitPair(settings, defect, failure, ofMode(defect.mode), ofMode(failure.mode))].filter((one) => one !== null);
  });
  const paired = new Set(pairs.flatMap(({ mode, defect }) => [mode.mode, defect?.mode]));
  const alone = modes
    .filter(({ mode }) => !paired.has(mode))
    .flatMap((mode) => {
      const own = ofMode(mode.mode);
      return own.length === 0 ? [] : [fitAlone(settings, mode, own)];
    });
  const fitted = [...pairs, ...alone];
  ofData.set(name, fitted);
  return fitted;
}

interface Settings {
  readonly item: string;
  readonly seed: number;
  /** Draws of the law. */
  readonly count: number;
}

/** Each mode has random numbers of its own, so that asking for fewer modes changes none of the others. */
const streamFor = ({ item, seed }: Settings, mode: string) =>
  randomStream(Number.parseInt(contentHash([item, mode, seed]).slice(0, 8), 16));

/** A defect with the failure it leads to; null where the pair has no maximum, or too few failures for one. */
export function fitPair(
  settings: Settings,
  defect: ItemMode,
  failure: ItemMode,
  defects: readonly SettledLife[],
  failures: readonly SettledLife[],
): FittedMode | null {
  const { item, count } = settings;
  const { histories } = joinHistories(defects, failures);
  if (histories.length === 0) return null;
  const fit = fitLinked(histories);
  if (fit.maximum !== "found" || fit.counts.failures < FEWEST) return null;
  const leaning = leaningDelay(fit, histories);
  if (leaning === null) return null;
  const stream = streamFor(settings, failure.mode);
  const draws =
    fit.counts.failures >= MANY
      ? drawByNormal(leaning.theta, leaning.covariance, count, stream)
      : drawByLikelihood(leaning.theta, leaning.covariance, leaning.logPosterior, count, stream, LINKED_PROPOSALS);
  return {
    item,
    mode: failure,
    defect,
    fittedAs: "both fitted together",
    law: { kind: "linked", defect: leaning.defect, delay: leaning.delay },
    draws: draws.map(([k1 = 1, s1 = 1, k2 = 1, s2 = 1]) => ({
      kind: "linked",
      defect: { shape: k1, scale: s1 },
      delay: { shape: k2, scale: s2 },
    })),
    lives: histories.length,
    failures: fit.counts.failures,
    longestAge: longestOf([...defects, ...failures]),
  };
}

/** A mode by itself, from one life or more. */
export function fitAlone(settings: Settings, mode: ItemMode, settled: readonly SettledLife[]): FittedMode {
  const failures = settled.filter(({ upper }) => upper !== null).length;
  const common = {
    item: settings.item,
    mode,
    defect: null,
    lives: settled.length,
    failures,
    longestAge: longestOf(settled),
  };
  const stream = streamFor(settings, mode.mode);
  const sample = sampleOf(settled);
  const fit = failures < FEWEST ? null : fitLaw(sample, "weibull");
  if (fit?.maximum === "found") {
    const { shape = 1, scale = 1 } = fit.parameters;
    const likelihood = lawLikelihood(sample, lawFamilies.weibull);
    const out = new Float64Array(TEN);
    const logLikelihood = ([logShape = 0, logScale = 0]: readonly number[]): number => {
      likelihood.evaluate([logScale, -logShape, 0], out);
      return out[0]!;
    };
    const estimate = [Math.log(shape), Math.log(scale)];
    const draws =
      failures >= MANY
        ? drawByNormal(estimate, fit.covariance.matrix, settings.count, stream)
        : drawByLikelihood(estimate, fit.covariance.matrix, logLikelihood, settings.count, stream);
    return {
      ...common,
      fittedAs: "Weibull",
      law: evidentOrHidden(mode.announces, { shape, scale }),
      draws: draws.map(([k = 1, s = 1]) => evidentOrHidden(mode.announces, { shape: k, scale: s })),
    };
  }
  const hours = settled.reduce((sum, { lower, upper, entry }) => sum + (upper ?? lower) - entry, 0);
  return {
    ...common,
    fittedAs: "constant rate",
    law: evidentOrHidden(mode.announces, {
      shape: 1,
      scale: failures === 0 ? Number.POSITIVE_INFINITY : hours / failures,
    }),
    draws: drawConstantRate(failures, hours, settings.count, stream).map((life) =>
      evidentOrHidden(mode.announces, life),
    ),
  };
}

const longestOf = (settled: readonly SettledLife[]): number =>
  settled.reduce((most, { lower, upper }) => Math.max(most, upper ?? lower), 0);
