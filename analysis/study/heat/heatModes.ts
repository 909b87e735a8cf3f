import type { Life } from "../../lives/types.ts";
import { adjustPValues } from "../../practice/comparisons/adjustPValues.ts";
import { contentHash } from "../contentHash.ts";
import { type FittedMode, fitModes } from "../fitModes.ts";
import { redressPractice } from "../redressPractice.ts";
import { type Report, silent } from "../report.ts";
import { scopedLives } from "../scopedLives.ts";
import { type SettledLife, settleAges, settledShare } from "../settleAges.ts";
import type { ShopData } from "../shopData.ts";
import type { Scope, StudyDefinition } from "../types.ts";
import type { EnergyProfile } from "./energyProfile.ts";
import { energyOf, type HeatLaw, type HeatQuestion, heatLaws } from "./fitHeat.ts";
import { type ClockedRuns, type HeatClock, heatClock } from "./heatClock.ts";
import { believable, type HeatRate, heatRate, type WellHeat, wellHeat } from "./wellHeat.ts";

/** Whether a mode follows the heat, and its law in hours at the reference temperature where it does. */
export interface HeatMode {
  /** As it is fitted in operating hours. */
  readonly plain: FittedMode;
  readonly profile: EnergyProfile | null;
  readonly untested: "under ten failures" | "no maximum" | null;
  /** Of the profile, allowing for the number of modes tested of the tool type (Holm). */
  readonly adjustedPValue: number | null;
  /** Null: no heat is shown in it, its hours count as they are. */
  readonly heat: {
    readonly best: HeatLaw;
    readonly draws: readonly HeatLaw[];
    /** Longest age followed, in hours at the reference. */
    readonly longestAge: number;
  } | null;
}

export interface HeatModes {
  readonly wells: WellHeat;
  /** Two-sided, of the energies. */
  readonly confidence: number;
  readonly modes: readonly HeatMode[];
  /** Rates of the clock at an energy (J/mol), worked out once. */
  readonly rate: (energy: number) => HeatRate;
  /** The clock of a life by its runs, at an energy (J/mol). */
  readonly clock: (runs: ClockedRuns, energy: number) => HeatClock;
}

/** Below so many failures a mode is not tested. Common practice, no source. */
const FEWEST = 10;
/** A mode follows the heat where its adjusted p-value is under this. */
const LEVEL = 0.05;

const known = new WeakMap<ShopData, Map<string, HeatModes | null>>();

/**
 * Which modes of a tool type follow the heat of their wells, and how; by all serials, whichever is asked about. Null where
 * the runs tell of no heat. Worked out once for the same lives and question.
 *
 * Cautions  The highest temperature of a run stands for all its hours. An energy met so is a slope across this shop's wells,
 *           whatever else went with their heat; it is no property of a rubber.
 */
export function heatModes(
  data: ShopData,
  definition: StudyDefinition,
  toolType: string,
  report: Report = silent,
): HeatModes | null {
  const { missingHours, seed, confidence } = definition;
  const scope: Scope = { ...definition.scope, toolType, item: null, mode: null, serial: null };
  const ofData = known.get(data) ?? new Map<string, HeatModes | null>();
  known.set(data, ofData);
  const name = contentHash({ scope, missingHours, seed, confidence });
  const before = ofData.get(name);
  if (before !== undefined) return before;

  const wells = wellHeat(redressPractice(data, { ...definition, scope }, toolType));
  const found = wells === null ? null : modesBy(wells, data, definition, toolType, scope, report);
  ofData.set(name, found);
  return found;
}

function modesBy(
  wells: WellHeat,
  data: ShopData,
  definition: StudyDefinition,
  toolType: string,
  scope: Scope,
  report: Report,
): HeatModes {
  const { missingHours, seed, confidence } = definition;
  const rates = new Map<number, HeatRate>();
  const rate = (energy: number): HeatRate => {
    const own = rates.get(energy) ?? heatRate(wells, energy);
    rates.set(energy, own);
    return own;
  };
  const share = settledShare(missingHours, data.hoursPerDay);
  const celsiusOf = (key: string) => believable(data.runOf(key)?.max_temperature_C);
  const clock: HeatModes["clock"] = (runs, energy) => heatClock(runs, celsiusOf, rate(energy), share);
  const clockOf = (life: SettledLife, energy: number): HeatClock => clock(life.life.runs, energy);
  const lives = scopedLives(data, scope);
  const settled = (item: string, mode: string | undefined): SettledLife[] =>
    settleAges(
      lives.filter((life: Life) => life.item === item && life.mode === mode),
      missingHours,
      data.hoursPerDay,
    );
  const asked = data.items
    .filter((row) => row.tool_type === toolType)
    .flatMap(({ item }) => fitModes(data, definition, toolType, item))
    .map((plain, place, all) => {
      report(place / all.length, `reading the heat in ${plain.mode.mode} of ${plain.item}`);
      const { item, mode, defect, failures } = plain;
      const question: HeatQuestion = {
        item,
        mode,
        defect,
        lives: settled(item, mode.mode),
        defects: settled(item, defect?.mode),
        clockOf,
      };
      const profile = failures < FEWEST ? null : energyOf(question, confidence);
      return { plain, question, profile };
    });
  const tested = asked.flatMap(({ profile }) => (profile === null ? [] : [profile]));
  const adjusted = adjustPValues(
    tested.map(({ pValue }) => pValue),
    "holm",
  );
  return {
    wells,
    confidence,
    rate,
    clock,
    modes: asked.map(({ plain, question, profile }): HeatMode => {
      const adjustedPValue = profile === null ? null : adjusted[tested.indexOf(profile)]!;
      const laws =
        profile !== null && adjustedPValue !== null && adjustedPValue < LEVEL
          ? heatLaws(question, profile, seed)
          : null;
      return {
        plain,
        profile,
        untested: profile !== null ? null : plain.failures < FEWEST ? "under ten failures" : "no maximum",
        adjustedPValue,
        heat: laws && { best: laws.best, draws: laws.draws, longestAge: laws.fitted.longestAge },
      };
    }),
  };
}
