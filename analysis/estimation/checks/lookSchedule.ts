import { AnalysisError } from "../../errors.ts";
import type { LifeSample } from "../types.ts";

/** How one life was followed, apart from when it failed: what a simulation keeps. */
export interface LookSchedule {
  readonly entry: number;
  /** Ages of the looks of this life, ascending, all above `entry`; null where a failure tells its own age. */
  readonly looks: readonly number[] | null;
  /** Age at which following ended for another reason than this failure; null where the failure ended it. */
  readonly end: number | null;
  /** Last age up to which this life is known to have been followed. */
  readonly followedTo: number;
  /** An age x of this life is known only to lie in [x (1 - blur), x (1 + blur)]; 0 for known ages. */
  readonly blur: number;
  readonly count: number;
}

export interface LookSchedules {
  readonly unit: string;
  readonly lives: readonly LookSchedule[];
  /** Lives whose looks were not given: theirs are assumed regular, as far apart as the two around a failure. */
  readonly assumed: number;
}

/**
 * The schedules behind a sample.
 *
 * @param looks  Ages of all looks of each life, in the order of the sample; null for a life whose mode tells its own age. Looks at or
 *               below the age of entry are left out. Not given: exact failures mean that failures tell their own age, failures between
 *               looks that looks find them; where a sample holds both, a life that had not failed is taken as the former. Their looks
 *               are then assumed regular: back from the last sound one, as far apart as the two around the failure, for a life that
 *               had not failed the middle one of these distances.
 * Conventions   Ages known as ranges enter at their middle.
 * Errors        "bad-setting" for a list of another length.
 */
export function lookSchedules(sample: LifeSample, looks?: readonly (readonly number[] | null)[]): LookSchedules {
  if (looks && looks.length !== sample.n) {
    throw new AnalysisError("bad-setting", { setting: "looks", value: looks.length, lives: sample.n });
  }
  const isExact = (row: number): boolean =>
    sample.lower[row] === sample.upper[row] && sample.lowerHigh[row] === sample.upperHigh[row];
  const hasFailed = (row: number): boolean => sample.upper[row] !== Number.POSITIVE_INFINITY;
  let someExact = false;
  for (let row = 0; row < sample.n; row++) if (isExact(row)) someExact = true;
  const middle = (low: Float64Array, high: Float64Array, row: number): number => 0.5 * (low[row]! + high[row]!);
  const widths = Array.from({ length: sample.n }, (_, row) => row)
    .filter((row) => hasFailed(row) && !isExact(row))
    .map((row) => middle(sample.upper, sample.upperHigh, row) - middle(sample.lower, sample.lowerHigh, row))
    .sort((a, b) => a - b);
  const usualWidth = widths[Math.floor(widths.length / 2)] ?? Number.POSITIVE_INFINITY;
  let assumed = 0;
  const lives = Array.from({ length: sample.n }, (_, row): LookSchedule => {
    const entry = sample.entry[row]!;
    const lower = middle(sample.lower, sample.lowerHigh, row);
    const upper = middle(sample.upper, sample.upperHigh, row);
    const followedTo = hasFailed(row) ? upper : lower;
    const blurOf = (low: number, high: number): number =>
      high > low && Number.isFinite(high) ? (high - low) / (high + low) : 0;
    const given = looks?.[row];
    const ownAges = (): number[] =>
      hasFailed(row)
        ? [...regularLooks(entry, lower, upper - lower), upper]
        : regularLooks(entry, lower, Math.min(usualWidth, lower - entry));
    let times: readonly number[] | null;
    if (given === undefined) times = isExact(row) || (!hasFailed(row) && someExact) ? null : ownAges();
    else times = given === null ? null : [...new Set([...given.filter((age) => age < followedTo), followedTo])];
    if (times && given === undefined) assumed++;
    return {
      entry,
      looks: times ? times.filter((age) => age > entry).sort((a, b) => a - b) : null,
      end: hasFailed(row) ? null : lower,
      followedTo,
      blur: Math.max(
        blurOf(sample.lower[row]!, sample.lowerHigh[row]!),
        blurOf(sample.upper[row]!, sample.upperHigh[row]!),
      ),
      count: sample.count[row]!,
    };
  });
  return { unit: sample.unit, lives, assumed };
}

/** So many looks of one life are assumed at most. */
const MOST_ASSUMED = 1_000;

/** Ages above `entry`, ascending, `gap` apart, ending at `last`. */
function regularLooks(entry: number, last: number, gap: number): number[] {
  const ages: number[] = [];
  for (let i = 0; i < MOST_ASSUMED; i++) {
    const age = last - i * gap;
    // A first look sooner than a thousandth of a gap after entry is rounding.
    if (!(age > entry + 1e-3 * gap)) break;
    ages.push(age);
    if (!(gap > 0)) break;
  }
  return ages.reverse();
}
