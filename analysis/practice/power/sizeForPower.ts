import { normalQuantile } from "../../numerics/index.ts";
import type { DesignMatrix } from "../types.ts";
import type { AssumedLives } from "./drawLives.ts";
import { type Power, powerBySimulation } from "./powerBySimulation.ts";

export interface SizeForPowerInput {
  /** One round of lives, as the shop has had them; clusters must be named. */
  readonly assumed: AssumedLives & { readonly clusters: readonly string[] };
  readonly column: string;
  /** Level of the test, 0 to 1. */
  readonly level: number;
  /** Chance to tell the effect, 0 to 1. */
  readonly power: number;
  /** Sets simulated at each size looked at. */
  readonly runs: number;
  readonly seed: number;
}

export interface SizeForPower {
  /** Simulated with as many lives as there are. */
  readonly now: Power;
  /** Times as many tools, each followed alike, that it takes. Null: no effect comes through at any size. */
  readonly times: number | null;
  /** Failures among them. */
  readonly failures: number | null;
  /** Simulated at that size; null where it is too large to be, or the lives there are will do. */
  readonly confirmed: Power | null;
}

/** Failures a size must bring for a signed root to be near normal. */
const ENOUGH_FAILURES = 25;
/** More lives than this are not simulated: the root of the size then says how it goes on. */
const MOST_LIVES = 3_000;

/**
 * How many lives of the same pattern does it take to tell an effect? The signed root of the test has a mean that grows with the
 * root of the size and a deviation that stays, so that one size simulated foretells the others; the answer is simulated in
 * turn and put right once.
 *
 * Errors  those of `powerBySimulation`.
 * Source  Self & Mauritsen (1988), Biometrics 44, 79-86, on the local power of score and likelihood-ratio tests.
 */
export function sizeForPower(input: SizeForPowerInput): SizeForPower {
  const { assumed, column, level, power, runs, seed } = input;
  const { rows } = assumed.design;
  const at = (times: number): Power =>
    powerBySimulation({ assumed: manyTimes(assumed, times), column, level, runs, seed });
  const now = at(1);
  const enough = now.meanFailures > 0 ? Math.min(MOST_LIVES / rows, ENOUGH_FAILURES / now.meanFailures) : 1;
  const first = enough > 1 ? { times: enough, seen: at(enough) } : { times: 1, seen: now };
  const guess = sizeFrom(first.seen, first.times, level, power);
  if (guess === null) return { now, times: null, failures: null, confirmed: null };
  const failuresAt = (times: number) => (first.seen.meanFailures * times) / first.times;
  if (guess <= 1 || guess * rows > MOST_LIVES)
    return { now, times: guess, failures: failuresAt(guess), confirmed: null };
  const confirmed = at(guess);
  const times = sizeFrom(confirmed, guess, level, power) ?? guess;
  return { now, times, failures: failuresAt(times), confirmed };
}

/** Where mean sqrt(size) less the critical value is as far above 0, in deviations, as the power asks. */
function sizeFrom({ signedRoot, runs, withoutMaximum }: Power, times: number, level: number, power: number) {
  const { mean, deviation } = signedRoot;
  // A mean that is not above its own simulation error is none.
  if (!(mean > (2 * deviation) / Math.sqrt(runs - withoutMaximum))) return null;
  const wanted = normalQuantile(1 - level / 2) + normalQuantile(power) * deviation;
  return times * (wanted / mean) ** 2;
}

/** The same tools over again and some of them once more, each copy a tool of its own. `times` 1 or more. */
export function manyTimes<Lives extends SizeForPowerInput["assumed"]>(assumed: Lives, times: number): Lives {
  if (times === 1) return assumed;
  const { clusters, design, followedTo, entry } = assumed;
  const rowsOf = new Map<string, number[]>();
  clusters.forEach((tool, row) => {
    const own = rowsOf.get(tool);
    if (own) own.push(row);
    else rowsOf.set(tool, [row]);
  });
  const tools = [...rowsOf];
  const whole = Math.floor(times);
  const rest = Math.round((times - whole) * tools.length);
  const names: string[] = [];
  const rows: number[] = [];
  const take = (place: number, copy: number) => {
    const [tool, own] = tools[place]!;
    for (const row of own) {
      rows.push(row);
      names.push(`${tool} ${copy}`);
    }
  };
  for (let copy = 0; copy < whole; copy++) for (let place = 0; place < tools.length; place++) take(place, copy);
  // Some of the tools, evenly over their order.
  for (let one = 0; one < rest; one++) take(Math.floor((one * tools.length) / rest), whole);
  return {
    ...assumed,
    design: rowsOfDesign(design, rows),
    followedTo: Float64Array.from(rows, (row) => followedTo[row]!),
    ...(entry ? { entry: Float64Array.from(rows, (row) => entry[row]!) } : {}),
    clusters: names,
  };
}

function rowsOfDesign(design: DesignMatrix, rows: readonly number[]): DesignMatrix {
  const k = design.names.length;
  return {
    ...design,
    rows: rows.length,
    values: Float64Array.from({ length: rows.length * k }, (_, at) => {
      return design.values[rows[Math.floor(at / k)]! * k + (at % k)]!;
    }),
  };
}
