import { ageingFactor } from "../../mechanics/thermalAgeing.ts";
import type { Row } from "../../records/descriptor.ts";
import type { RedressPractice } from "../redressPractice.ts";

/** Temperatures of a tool type's runs: the highest written for each, weighed by its hours. */
export interface WellHeat {
  /** Hours at this temperature are the heat clock's hours: the mean over hours, to a whole degree. degC. */
  readonly referenceC: number;
  /** 5 and 95 % of the hours were run below. degC. */
  readonly lowC: number;
  readonly highC: number;
  /** Share of the hours whose run has a temperature. */
  readonly writtenShare: number;
  readonly runs: readonly { readonly celsius: number; readonly hours: number }[];
}

/** Null where no run has a temperature, or all the same one. */
export function wellHeat({ runs }: Pick<RedressPractice, "runs">): WellHeat | null {
  const written = runs
    .flatMap(({ run, hours }) => {
      const celsius = believable(run.max_temperature_C);
      return celsius === null ? [] : [{ celsius, hours }];
    })
    .filter(({ hours }) => hours > 0)
    .sort((a, b) => a.celsius - b.celsius);
  const sum = (list: readonly { readonly hours: number }[]): number =>
    list.reduce((total, { hours }) => total + hours, 0);
  const total = sum(written);
  const [first, last] = [written[0], written.at(-1)];
  if (first === undefined || last === undefined || first.celsius === last.celsius) return null;
  const at = (share: number): number => {
    let passed = 0;
    for (const { celsius, hours } of written) {
      passed += hours;
      if (passed >= share * total) return celsius;
    }
    return last.celsius;
  };
  return {
    referenceC: Math.round(written.reduce((mean, { celsius, hours }) => mean + (celsius * hours) / total, 0)),
    lowC: at(0.05),
    highC: at(0.95),
    writtenShare: total / sum(runs),
    runs: written,
  };
}

/** Coldest and hottest a run is believed to be, degC; one slip of the pen would count its hours a thousandfold. Common practice, no source. */
const [COLDEST, HOTTEST] = [-20, 260];

/** A run's highest temperature; null where none is written, or one that no well has. */
export const believable = (celsius: Row<"runs">["max_temperature_C"]): number | null =>
  celsius == null || celsius < COLDEST || celsius > HOTTEST ? null : celsius;

/** How fast hours count at an activation energy (J/mol; 0: all hours alike), against those at the reference. */
export interface HeatRate {
  readonly energy: number;
  readonly at: (celsius: number) => number;
  /** Of a run without a temperature: the mean over the hours of those with one. */
  readonly usual: number;
}

export function heatRate({ referenceC, runs }: WellHeat, energy: number): HeatRate {
  const known = new Map<number, number>();
  const at = (celsius: number): number => {
    const before = known.get(celsius);
    if (before !== undefined) return before;
    const rate = energy === 0 ? 1 : ageingFactor(celsius, referenceC, energy);
    known.set(celsius, rate);
    return rate;
  };
  const hours = runs.reduce((total, run) => total + run.hours, 0);
  return { energy, at, usual: runs.reduce((mean, run) => mean + (at(run.celsius) * run.hours) / hours, 0) };
}
