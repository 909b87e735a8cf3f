import { type LawName, lawFamilies } from "../distributions/lawFamilies.ts";
import { type LifeLaw, lawFromTheta } from "../distributions/lifeLaw.ts";
import { fitLaw, type LawMaximum } from "../estimation/fitLaw.ts";
import { lawBounds } from "../estimation/lawBounds.ts";
import { type LawQuantity, lawQuantity } from "../estimation/lawQuantity.ts";
import { lawWaldBounds } from "../estimation/lawWaldBounds.ts";
import type { LifeSample } from "../estimation/types.ts";
import type { Estimate, ItemLifeResult, LawChoice } from "./types.ts";

/** What a law other than the Weibull law reads from the lives. */
export interface AnswerByLaw extends Pick<ItemLifeResult, "readings" | "survival"> {
  readonly fit: NonNullable<ItemLifeResult["fit"]>;
  readonly law: LifeLaw;
}

type OtherLaw = Exclude<LawChoice, "weibull">;

/** A law's own parameters as shape, scale and a third; a location kept as a logarithm of hours is unlogged. */
interface Parameters {
  readonly shape: { readonly name: string; readonly unit: Estimate["unit"] } | null;
  readonly scale: { readonly name: string; readonly isLog: boolean };
  readonly third?: { readonly name: string; readonly unit: Estimate["unit"] };
}

const parameters: Readonly<Record<OtherLaw, Parameters>> = {
  lognormal: { shape: { name: "sigma", unit: "none" }, scale: { name: "mu", isLog: true } },
  exponential: { shape: null, scale: { name: "scale", isLog: false } },
  loglogistic: { shape: { name: "shape", unit: "none" }, scale: { name: "scale", isLog: false } },
  gamma: { shape: { name: "shape", unit: "none" }, scale: { name: "scale", isLog: false } },
  "generalised gamma": {
    shape: { name: "sigma", unit: "none" },
    scale: { name: "mu", isLog: true },
    third: { name: "Q", unit: "none" },
  },
  "smallest extreme value": { shape: { name: "sigma", unit: "h" }, scale: { name: "mu", isLog: false } },
  normal: { shape: { name: "sigma", unit: "h" }, scale: { name: "mu", isLog: false } },
  "three-parameter weibull": {
    shape: { name: "shape", unit: "none" },
    scale: { name: "scale", isLog: false },
    third: { name: "threshold", unit: "h" },
  },
};

/** Re-maximising over two parameters at every age of a curve takes many seconds: the curve of these laws has Wald bounds. */
export const hasThreeParameters = (law: LawName): boolean => lawFamilies[law].free.length === 3;

/**
 * Readings, curve and bounds under a law that the reader chose.
 *
 * @param gridOf  Ages of the curve, from the law's median.
 * @param method  Of the readings' bounds. The curve of a law with three parameters has Wald bounds always.
 * @returns       Why the law has no maximum, where it has none. The exponential law's shape is 1 and has no bounds. An age below 0
 *                (laws that are not cut at 0) is null, "before 0 h"; a bound below 0 is 0.
 */
export function answerByLaw(
  sample: LifeSample,
  choice: OtherLaw,
  statedAge: number,
  confidence: number,
  gridOf: (median: number) => readonly number[],
  method: "likelihood ratio" | "Wald" = "likelihood ratio",
): AnswerByLaw | Exclude<LawMaximum, "found"> {
  const found = fitLaw(sample, choice);
  if (found.maximum !== "found") return found.maximum;
  const law = lawFromTheta(choice, found.theta);
  const boundsOf = (quantity: LawQuantity, by: "likelihood ratio" | "Wald") =>
    by === "Wald" ? lawWaldBounds(found, quantity, confidence) : lawBounds(found, sample, quantity, confidence);
  const read = (quantity: LawQuantity, unit: Estimate["unit"]): Estimate => {
    const value = lawQuantity(found, quantity);
    if (!Number.isFinite(value))
      return { value: null, lower: null, upper: null, confidence, method: "none", unit, why: "not reached" };
    const { lower, upper } = boundsOf(quantity, method);
    return { value, lower: finite(lower), upper: finite(upper), confidence, method, unit };
  };
  const age = (quantity: LawQuantity): Estimate => notBeforeZero(read(quantity, "h"));
  const { shape, scale, third } = parameters[choice];
  const ofScale = read({ kind: "parameter", name: scale.name }, "h");
  const ages = gridOf(law.quantile(0.5));
  const byCurve = hasThreeParameters(choice) ? "Wald" : method;
  const band = ages.map((at) =>
    at === 0 ? { value: 1, lower: 1, upper: 1 } : boundsOf({ kind: "survival", age: at }, byCurve),
  );
  return {
    law,
    fit: {
      distribution: choice,
      shape:
        shape === null
          ? { value: 1, lower: null, upper: null, confidence, method: "none", unit: "none" }
          : read({ kind: "parameter", name: shape.name }, shape.unit),
      scale: scale.isLog ? unlogged(ofScale) : ofScale,
      ...(third === undefined ? {} : { third: read({ kind: "parameter", name: third.name }, third.unit) }),
      logLikelihood: found.logLikelihood,
      iterations: found.iterations,
      largestScore: found.largestScore,
    },
    readings: {
      b10: age({ kind: "quantile", failedFraction: 0.1 }),
      median: age({ kind: "quantile", failedFraction: 0.5 }),
      mean: age({ kind: "mean" }),
      statedAge,
      reliability: read({ kind: "survival", age: statedAge }, "fraction"),
    },
    survival: {
      age: [...ages],
      value: band.map(({ value }) => value),
      lower: band.map(({ lower }) => finite(lower) ?? 0),
      upper: band.map(({ upper }) => finite(upper) ?? 1),
    },
  };
}

const finite = (bound: number | null): number | null => (bound !== null && Number.isFinite(bound) ? bound : null);

function unlogged(estimate: Estimate): Estimate {
  const of = (value: number | null): number | null => (value === null ? null : finite(Math.exp(value)));
  return { ...estimate, value: of(estimate.value), lower: of(estimate.lower), upper: of(estimate.upper) };
}

function notBeforeZero(estimate: Estimate): Estimate {
  const { value, lower, upper } = estimate;
  if (value !== null && value < 0)
    return {
      ...estimate,
      value: null,
      lower: null,
      upper: upper === null ? null : Math.max(0, upper),
      why: "before 0 h",
    };
  return { ...estimate, lower: lower === null ? null : Math.max(0, lower) };
}
