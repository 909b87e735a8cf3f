import { quantile } from "simple-statistics";
import { randomStream } from "../../estimation/bootstrap/randomStream.ts";
import { lifeSample } from "../../estimation/lifeSample.ts";
import { fitLifeRegression } from "../../practice/life/fitLifeRegression.ts";
import type { AssumedLives } from "../../practice/power/drawLives.ts";
import type { NamedColumn } from "../../practice/screen/fitter.ts";
import type { DesignMatrix } from "../../practice/types.ts";
import type { Contrast } from "./contrasts.ts";
import type { ModeRow } from "./modeTable.ts";

/**
 * The lives of a comparison as they might come again, were the practice to multiply life by `multiplier`: the law, the rest of
 * what differs and the tools as fitted, the follow-up and the looks as they were. A life that failed is followed on as lives
 * are in this shop.
 *
 * @param inTrial  The practice alternates over the lives of each tool, so that nothing goes along with it.
 * @returns        Null where the lives have no law: no failures, or a likelihood without a maximum.
 */
export function livesAlike(
  rows: readonly ModeRow[],
  { values, at, against }: Contrast,
  expected: NamedColumn | null,
  multiplier: number,
  inTrial: boolean,
  seed: number,
): (AssumedLives & { readonly clusters: readonly string[] }) | null {
  const clusters = rows.map(({ life }) => life.serial);
  const held = expected ? [expected] : [];
  const sample = lifeSample({
    unit: "h",
    lives: rows.map(({ lower, upper, entry }) => ({ lower, upper, entry })),
  });
  const fit = fitLifeRegression({
    sample,
    design: designOf([{ name: "practice", values }, ...held], rows.length),
    law: "weibull",
  });
  const plain =
    fit.maximum === "found" ? fit : fitLifeRegression({ sample, design: designOf(held, rows.length), law: "weibull" });
  if (plain.maximum !== "found") return null;
  const isWith = fit.maximum === "found";
  const [intercept = 0, ...slopes] = plain.coefficients;
  const fitted = isWith ? slopes[0]! : 0;
  const others = isWith ? slopes.slice(1) : slopes;
  const assumed = Math.log(multiplier) / (at - against);
  const followedTo = followedOn(rows, seed);
  const practice = inTrial ? alternate(clusters, at, against) : values;
  return {
    unit: "h",
    design: designOf([{ name: "practice", values: practice }, ...held], rows.length),
    law: "weibull",
    // Lives at the value held against stay as they are.
    intercept: intercept + (fitted - assumed) * against,
    coefficients: [assumed, ...others],
    spread: plain.spread,
    followedTo,
    entry: Float64Array.from(rows, ({ entry }, row) => Math.min(entry, followedTo[row]! * 0.999)),
    lookEvery: looksApart(rows),
    clusters,
  };
}

const designOf = (columns: readonly NamedColumn[], rows: number): DesignMatrix => {
  const k = columns.length;
  return {
    rows,
    names: columns.map(({ name }) => name),
    values: Float64Array.from({ length: rows * k }, (_, i) => columns[i % k]!.values[Math.floor(i / k)]!),
    terms: columns.map(({ name }, j) => ({ name, columns: [j] })),
  };
};

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
