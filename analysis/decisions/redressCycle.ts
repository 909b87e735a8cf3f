import type { ModeLaw, RedressCosts } from "./redressModel.ts";
import { type TabulatedMode, tabulateMode } from "./tabulateMode.ts";

/** One redress cycle under every interval on a grid of ages 0, step, ..., cells * step. All per cycle. */
export interface RedressCycle {
  readonly step: number;
  readonly cells: number;
  /** P(no job stopped before the age). */
  readonly running: Float64Array;
  /** Mean age at the end of the cycle. */
  readonly meanLength: Float64Array;
  /** P(this mode stops the job before the age), by mode. */
  readonly stops: readonly Float64Array[];
  /** P(this mode is found in the shop when the cycle ends), by mode. */
  readonly found: readonly Float64Array[];
}

/**
 * A tool, or an item, redressed at an age or when a mode stops its job, whichever comes first; the redress restores every
 * mode given. Modes are independent, but for a defect and the failure it leads to.
 *   length  integral of S,   S = product of the running of all modes
 *   stops   integral of the running of the others against the fall of its own
 *   found   present at the planned end, or when another mode ends the cycle before
 *
 * Accuracy  second order in the step; see the tests against `ageReplacement` and closed forms.
 * Source    Barlow & Hunter (1960) for age replacement by one mode; Christer (1982) for the delay-time part; competing modes
 *           as in Lawless (2003), chapter 9.
 */
export function redressCycle(laws: readonly ModeLaw[], step: number, cells: number): RedressCycle {
  const modes = laws.map((law) => tabulateMode(law, step, cells));
  const others = modes.map((_, own) => productOfRunning(modes, cells, own));
  const running = productOfRunning(modes, cells, null);
  const meanLength = new Float64Array(cells + 1);
  for (let age = 1; age <= cells; age++) {
    meanLength[age] = meanLength[age - 1]! + (step * (running[age]! + running[age - 1]!)) / 2;
  }
  return {
    step,
    cells,
    running,
    meanLength,
    stops: modes.map((mode, own) => against(others[own]!, mode.running)),
    found: modes.map(({ present }, own) => {
      const before = against(present, others[own]!);
      return before.map((value, age) => value + present[age]! * others[own]![age]!);
    }),
  };
}

/** Mean cost of a cycle that is planned to end at each age. */
export function cycleCost(cycle: RedressCycle, { planned, modes }: RedressCosts): Float64Array {
  return cycle.running.map((running, age) =>
    modes.reduce(
      (sum, { stops, found }, mode) => sum + stops * cycle.stops[mode]![age]! + found * cycle.found[mode]![age]!,
      planned * running,
    ),
  );
}

function productOfRunning(modes: readonly TabulatedMode[], cells: number, without: number | null): Float64Array {
  const product = new Float64Array(cells + 1).fill(1);
  modes.forEach(({ running }, mode) => {
    if (mode !== without) for (let age = 0; age <= cells; age++) product[age]! *= running[age]!;
  });
  return product;
}

/** Integral over (0, age) of a value against the fall of a survival, by the trapezoid rule. */
function against(value: Float64Array, survival: Float64Array): Float64Array {
  const sum = new Float64Array(value.length);
  for (let age = 1; age < value.length; age++) {
    sum[age] = sum[age - 1]! + ((value[age]! + value[age - 1]!) / 2) * (survival[age - 1]! - survival[age]!);
  }
  return sum;
}
