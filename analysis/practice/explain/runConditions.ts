import { highOf, lowOf } from "../../lives/age.ts";
import type { Age, Life } from "../../lives/types.ts";
import type { Row } from "../../records/descriptor.ts";

/** What a life has seen of the well up to an age: sums over hours, per hour where it says so. Null: written nowhere. */
export interface ConditionsUpTo {
  readonly hours: number;
  /** Mean over hours. */
  readonly temperatureC: number | null;
  /** Hours times the acceleration of ageing at each run's highest temperature. */
  readonly thermalHours: number | null;
  readonly vibration: number | null;
  readonly differentialPressureMPa: number | null;
  /** Share of the hours in each mud. */
  readonly mud: Readonly<Record<string, number>>;
}

/**
 * Run conditions cumulated from the start of a life up to an age: what the item has been exposed to by then, and nothing of
 * what came after. A run that is under way at that age counts with the hours it has had.
 *
 * @param acceleration  Ageing per hour at a temperature in degC, against the reference temperature.
 * Conventions          A condition that a run does not write is averaged over the runs that do.
 */
export function conditionsUpTo(
  life: Life,
  age: number,
  runOf: (key: string) => Row<"runs"> | undefined,
  acceleration: (celsius: number) => number,
): ConditionsUpTo {
  let hours = 0;
  const temperature = average();
  const thermal = average();
  const vibration = average();
  const pressure = average();
  const mud = new Map<string, number>();
  for (const { row, from, to } of life.runs) {
    const [start, end] = [middle(from), Math.min(middle(to), age)];
    const run = runOf(row.key);
    if (run === undefined || end <= start) continue;
    const lasted = end - start;
    hours += lasted;
    temperature.add(run.max_temperature_C, lasted);
    thermal.add(run.max_temperature_C == null ? null : acceleration(run.max_temperature_C), lasted);
    vibration.add(run.vibration_class ?? run.vibration_g_rms, lasted);
    pressure.add(run.differential_pressure_MPa, lasted);
    if (run.mud != null) mud.set(run.mud, (mud.get(run.mud) ?? 0) + lasted);
  }
  const rate = thermal.mean();
  return {
    hours,
    temperatureC: temperature.mean(),
    thermalHours: rate === null ? null : rate * hours,
    vibration: vibration.mean(),
    differentialPressureMPa: pressure.mean(),
    mud: Object.fromEntries([...mud].map(([name, lasted]) => [name, lasted / hours])),
  };
}

const middle = (age: Age): number => (lowOf(age) + highOf(age)) / 2;

function average() {
  let [sum, hours] = [0, 0];
  return {
    add: (value: number | null | undefined, lasted: number) => {
      if (value == null) return;
      sum += value * lasted;
      hours += lasted;
    },
    mean: () => (hours > 0 ? sum / hours : null),
  };
}
