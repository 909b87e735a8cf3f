import { mean, quantile } from "simple-statistics";
import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { fitWeibull } from "../../estimation/fitWeibull.ts";
import { lifeSample } from "../../estimation/lifeSample.ts";
import { poolShapes } from "../../estimation/pooled/poolShapes.ts";
import type { LifeSample } from "../../estimation/types.ts";
import { fitLifeRegression } from "../../practice/life/fitLifeRegression.ts";
import type { AssumedLives } from "../../practice/power/drawLives.ts";
import type { NamedColumn } from "../../practice/screen/fitter.ts";
import type { DesignMatrix } from "../../practice/types.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeRow, ModeTable } from "./modeTable.ts";
import type { SettlingGoal } from "./types.ts";

/**
 * The lives of a comparison as they might come again, were the practice to multiply life by `multiplier`: the rest of what
 * differs as fitted, as many failures as there were, the tools, the follow-up and the looks as they are. A life that failed is
 * followed on as lives are in this shop.
 *
 * @param tables  The modes of the screen, this one among them: the shapes of the others are leant on as far as these lives
 *                leave their own open. A few dozen failures between wide looks do, and the power would swing between none and
 *                certainty. A defect that leads to a failure has its shape from the fit of both: what it leads to decides when
 *                one looks at it, so that its own lives alone would mislead.
 * @returns       The lives as they are, and as they would be in a trial: there the practice alternates over the lives of each
 *                tool, so that nothing goes along with it. Null where the lives have no law: no failures, or no maximum.
 */
export function livesAlike(
  table: ModeTable,
  { rows: kept, values, at, against }: Contrast,
  expected: NamedColumn | null,
  { multiplier, shape: stated }: Pick<SettlingGoal, "multiplier" | "shape">,
  tables: readonly ModeTable[],
  seed: number,
): { readonly asNow: AlikeLives; readonly inTrial: AlikeLives } | null {
  const rows = kept.map((row) => table.rows[row]!);
  const clusters = rows.map(({ life }) => life.serial);
  const held = expected ? [expected] : [];
  const columns = [{ name: "practice", values }, ...held];
  const sample = sampleOfRows(rows);
  const fit = fitLifeRegression({ sample, design: designOf(columns, rows.length), law: "weibull" });
  const plain =
    fit.maximum === "found" ? fit : fitLifeRegression({ sample, design: designOf(held, rows.length), law: "weibull" });
  if (plain.maximum !== "found") return null;
  const slopes = plain.coefficients.slice(1);
  const fitted = fit.maximum === "found" ? slopes.shift()! : 0;
  const explained = rows.map((_, i) => fitted * values[i]! + (expected ? slopes[0]! * expected.values[i]! : 0));
  const others = tables.filter((other) => other !== table && other.linkedShape === null);
  const shape =
    stated ??
    table.linkedShape ??
    shapeAmong(
      sampleOfRows(rows, explained),
      others.map((other) => sampleOfRows(other.rows)),
    );
  // Log life at another shape: the same hazards stand against each other.
  const rest = slopes.map((slope) => slope / plain.spread / shape);
  const assumed = Math.log(multiplier) / (at - against);
  const followedTo = followedOn(rows, seed);
  const entry = Float64Array.from(rows, (row, i) => Math.min(row.entry, followedTo[i]! * 0.999));
  const intercept = interceptFor(
    rows.filter(({ upper }) => upper !== null).length,
    rows.map((_, i) => ({
      location: assumed * values[i]! + (expected ? rest[0]! * expected.values[i]! : 0),
      from: entry[i]!,
      to: followedTo[i]!,
    })),
    shape,
  );
  const alike = (practice: Float64Array): AlikeLives => ({
    unit: "h",
    design: designOf([{ name: "practice", values: practice }, ...held], rows.length),
    law: "weibull",
    intercept,
    coefficients: [assumed, ...rest],
    spread: 1 / shape,
    followedTo,
    entry,
    lookEvery: looksApart(rows),
    clusters,
  });
  return { asNow: alike(values), inTrial: alike(alternate(clusters, at, against)) };
}

export type AlikeLives = AssumedLives & { readonly clusters: readonly string[] };

/** @param explained  Of log life: taken off, so that what is left is the law itself. */
export function sampleOfRows(rows: readonly ModeRow[], explained?: readonly number[]): LifeSample {
  const middle = explained ? mean([...explained]) : 0;
  return lifeSample({
    unit: "h",
    lives: rows.map(({ lower, upper, entry }, i) => {
      const times = explained ? Math.exp(middle - explained[i]!) : 1;
      return { lower: times * lower, upper: upper === null ? null : times * upper, entry: times * entry };
    }),
  });
}

function shapeAmong(own: LifeSample, others: readonly LifeSample[]): number {
  const groups = [own, ...others].map((sample, index) => ({ name: String(index), sample }));
  if (groups.length > 1) return poolShapes(groups, 0.9).groups[0]!.pooled.value;
  const fit = fitWeibull(own);
  return fit.maximum === "found" ? fit.shape : 1;
}

export const designOf = (columns: readonly NamedColumn[], rows: number): DesignMatrix => {
  const k = columns.length;
  return {
    rows,
    names: columns.map(({ name }) => name),
    values: Float64Array.from({ length: rows * k }, (_, i) => columns[i % k]!.values[Math.floor(i / k)]!),
    terms: columns.map(({ name }, j) => ({ name, columns: [j] })),
  };
};

/** The intercept of log life at which so many failures are expected; the number falls as it grows. */
function interceptFor(
  failures: number,
  lives: readonly { readonly location: number; readonly from: number; readonly to: number }[],
  shape: number,
): number {
  const expected = (intercept: number) =>
    lives.reduce((sum, { location, from, to }) => {
      const scale = Math.exp(intercept + location);
      return sum - Math.expm1((from / scale) ** shape - (to / scale) ** shape);
    }, 0);
  let [low, high] = [-50, 50];
  for (let i = 0; i < 60; i++) {
    const middle = 0.5 * (low + high);
    if (expected(middle) > failures) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}

function alternate(tools: readonly string[], at: number, against: number): Float64Array {
  const turns = new Map<string, boolean>();
  let first = false;
  return Float64Array.from(tools, (tool) => {
    const before = turns.get(tool);
    if (before === undefined) first = !first;
    const isAt = before === undefined ? first : !before;
    turns.set(tool, isAt);
    return isAt ? at : against;
  });
}

/**
 * Ages to which lives are followed: where a life was seen to fail, an age drawn from those at which lives beyond it were taken
 * off sound (the product-limit curve of being taken off).
 */
function followedOn(rows: readonly ModeRow[], seed: number): Float64Array {
  const random = randomStream(seed);
  const order = rows
    .map(({ lower, upper }) => ({ age: upper ?? lower, sound: upper === null }))
    .sort((a, b) => a.age - b.age);
  let kept = 1;
  const curve = order.map(({ age, sound }, place) => {
    if (sound) kept *= 1 - 1 / (order.length - place);
    return { age, kept };
  });
  const last = Math.max(curve.at(-1)?.age ?? 0, 0.1);
  return Float64Array.from(rows, ({ lower, upper }) => {
    if (upper === null) return Math.max(lower, 0.1);
    const here = curve.findLast(({ age }) => age <= lower)?.kept ?? 1;
    const drawn = here * random.uniform();
    return Math.max(curve.find((one) => one.age > lower && one.kept <= drawn)?.age ?? last, lower, 0.1);
  });
}

/** Middle width between the last sound look and the one that found the failure; null where most ages are known. */
function looksApart(rows: readonly ModeRow[]): number | null {
  const widths = rows.flatMap(({ lower, upper }) => (upper === null ? [] : [upper - lower]));
  const middle = widths.length === 0 ? 0 : quantile(widths, 0.5);
  return middle > 0.5 ? middle : null;
}
