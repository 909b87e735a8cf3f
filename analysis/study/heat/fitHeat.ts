import type { ModeLaw } from "../../decisions/redressModel.ts";
import { fitLaw } from "../../estimation/fitLaw.ts";
import { fitLinked } from "../../estimation/linked/fitLinked.ts";
import { type LeaningFit, leaningDelay } from "../../estimation/linked/leaningDelay.ts";
import type { LinkedHistory } from "../../estimation/linked/types.ts";
import type { ItemMode } from "../../lives/episodes.ts";
import { DRAWS, type FittedMode, fitAlone, fitPair } from "../fitModes.ts";
import { joinHistories, restorationOf } from "../linkedHistories.ts";
import { type SettledLife, sampleOf } from "../settleAges.ts";
import { type EnergyProfile, profileEnergy } from "./energyProfile.ts";
import { type HeatClock, onHeatClock } from "./heatClock.ts";

/** Lives of a mode, or of a defect and the failure it leads to, and the heat clock of each at an energy (J/mol). */
export interface HeatQuestion {
  readonly item: string;
  readonly mode: ItemMode;
  readonly defect: ItemMode | null;
  /** Of the mode. */
  readonly lives: readonly SettledLife[];
  /** Of the defect; empty without one. */
  readonly defects: readonly SettledLife[];
  readonly clockOf: (life: SettledLife, energy: number) => HeatClock;
}

/** A law in hours at the reference temperature, and the energy (J/mol) that its clock runs by. */
export interface HeatLaw {
  readonly energy: number;
  readonly law: ModeLaw;
}

/** Restorations beyond so many are thinned evenly: enough to know an energy to a few kJ/mol, and a law to a few per cent. */
const MOST_PROFILED = 2_000;
const MOST_FITTED = 4_000;

/**
 * What the lives say of the activation energy: each age turned into hours at the reference temperature, the law fitted to
 * them, the likelihood taken back to hours (an exact failure brings the rate of its clock).
 */
export function energyOf(question: HeatQuestion, confidence: number): EnergyProfile | null {
  const kept = thinned(question, MOST_PROFILED);
  if (question.defect === null) return profileEnergy((energy) => aloneLikelihood(kept, energy), confidence);
  let near: LeaningFit | null = null;
  return profileEnergy((energy) => {
    const { joined, logRates } = joinedAt(kept, energy);
    near = leaningNear(near, joined.histories);
    return near === null ? null : near.logPosterior(near.theta) + logRates;
  }, confidence);
}

/** The law at the best energy, and draws of energy and law together: equal shares of energies cut from the profile. */
export function heatLaws(
  question: HeatQuestion,
  { energy, nodes }: EnergyProfile,
  seed: number,
): { readonly fitted: FittedMode; readonly best: HeatLaw; readonly draws: readonly HeatLaw[] } | null {
  const kept = thinned(question, MOST_FITTED);
  const at = (value: number, count: number): FittedMode | null => fitAt(kept, value, seed, count);
  const fitted = at(energy, 1);
  if (fitted === null) return null;
  const drawn = nodes.map((node) => at(node, DRAWS / nodes.length)?.draws.map((law) => ({ energy: node, law })) ?? []);
  if (drawn.some(({ length }) => length === 0)) return null;
  const draws = Array.from(
    { length: DRAWS },
    (_, draw) => drawn[draw % nodes.length]![Math.floor(draw / nodes.length)]!,
  );
  return { fitted, best: { energy, law: fitted.law }, draws };
}

function fitAt(question: HeatQuestion, energy: number, seed: number, count: number): FittedMode | null {
  const { item, mode, defect } = question;
  const { lives, defects } = onClock(question, energy);
  const settings = { item, seed, count };
  return defect === null ? fitAlone(settings, mode, lives) : fitPair(settings, defect, mode, defects, lives);
}

function onClock({ lives, defects, clockOf }: HeatQuestion, energy: number) {
  const turned = (life: SettledLife): SettledLife => onHeatClock(life, clockOf(life, energy));
  return { lives: lives.map(turned), defects: defects.map(turned) };
}

function aloneLikelihood(question: HeatQuestion, energy: number): number | null {
  const fit = fitLaw(sampleOf(onClock(question, energy).lives), "weibull");
  if (fit.maximum !== "found") return null;
  return question.lives.filter(isExact).reduce((sum, life) => sum + logRate(question, life, energy), fit.logLikelihood);
}

/** Histories on their heat clocks, and the sum of the log rates at failures that are known to the hour. */
function joinedAt(question: HeatQuestion, energy: number) {
  const { lives, defects } = onClock(question, energy);
  const joined = joinHistories(defects, lives);
  const failed = new Set(
    joined.lives.filter((_, place) => joined.histories[place]!.failure.to !== null).map(restorationOf),
  );
  const logRates = question.lives
    .filter((life) => isExact(life) && failed.has(restorationOf(life.life)))
    .reduce((sum, life) => sum + logRate(question, life, energy), 0);
  return { joined, logRates };
}

/** From the fit at the energy before, whose histories were much alike; from scratch for the first. */
function leaningNear(before: LeaningFit | null, histories: readonly LinkedHistory[]): LeaningFit | null {
  const near = before === null ? null : leaningDelay(before, histories);
  if (near !== null) return near;
  const fit = fitLinked(histories);
  return fit.maximum === "found" ? leaningDelay(fit, histories) : null;
}

const isExact = ({ life, lower, upper }: SettledLife): boolean => life.kind === "exact" && lower === upper;

const logRate = ({ clockOf }: HeatQuestion, life: SettledLife, energy: number): number =>
  Math.log(clockOf(life, energy).rateAt(life.lower));

function thinned(question: HeatQuestion, most: number): HeatQuestion {
  const restorations = [...new Set([...question.defects, ...question.lives].map(({ life }) => restorationOf(life)))];
  if (restorations.length <= most) return question;
  const kept = new Set(
    Array.from({ length: most }, (_, place) => restorations[Math.floor((place * restorations.length) / most)]!),
  );
  const has = ({ life }: SettledLife): boolean => kept.has(restorationOf(life));
  return { ...question, lives: question.lives.filter(has), defects: question.defects.filter(has) };
}
