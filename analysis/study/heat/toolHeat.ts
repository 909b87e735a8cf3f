import { highOf } from "../../lives/age.ts";
import type { PresentAge } from "../presentAges.ts";
import type { RedressPractice } from "../redressPractice.ts";
import type { ClockedRuns, HeatClock } from "./heatClock.ts";
import type { HeatModes } from "./heatModes.ts";

/** A mode of one tool on its heat clock, by energy (J/mol). */
export interface ToolHeat {
  /** Hours at the reference temperature: its age, and its age at the last clean look. */
  readonly standing: (energy: number) => { readonly age: number; readonly cleanAt: number };
  /** How fast the next run's hours count. */
  readonly rate: (energy: number) => number;
}

type Runs = RedressPractice["runs"];

/**
 * @param runs      Counted runs of the tool, oldest first: they tell the heat where the age rests on no life yet.
 * @param nextC     Highest temperature of the next run, degC; null counts its hours as usual ones.
 */
export function toolHeat(
  own: PresentAge,
  runs: Runs,
  { rate, clock: clockAt }: Pick<HeatModes, "rate" | "clock">,
  nextC: number | null,
): ToolHeat {
  const age = highOf(own.age);
  const marks = own.runs ?? lastRuns(runs, age);
  const known = new Map<number, HeatClock>();
  const clock = (energy: number): HeatClock => {
    const found = known.get(energy) ?? clockAt(marks, energy);
    known.set(energy, found);
    return found;
  };
  return {
    standing: (energy) => {
      const { hoursAt } = clock(energy);
      return { age: hoursAt(age), cleanAt: hoursAt(Math.min(own.cleanAt, age)) };
    },
    rate: (energy) => (nextC === null ? rate(energy).usual : rate(energy).at(nextC)),
  };
}

/** The newest runs whose hours make an age, as marks on its clock. */
function lastRuns(runs: Runs, age: number): ClockedRuns {
  const marks: ClockedRuns[number][] = [];
  let to = age;
  for (const { run, hours } of [...runs].reverse()) {
    if (!(to > 0)) break;
    const from = Math.max(0, to - hours);
    marks.unshift({ row: { table: "runs", key: JSON.stringify([run.run]) }, from, to });
    to = from;
  }
  return marks;
}
