import { extremeValue } from "./standard/extremeValue.ts";
import { gaussian } from "./standard/gaussian.ts";
import { logGammaLaw } from "./standard/logGammaLaw.ts";
import { logistic } from "./standard/logistic.ts";
import { prentice } from "./standard/prentice.ts";
import type { StandardLaw } from "./standard/standardLaw.ts";

export type LawName =
  | "weibull"
  | "exponential"
  | "lognormal"
  | "loglogistic"
  | "gamma"
  | "generalised gamma"
  | "smallest extreme value"
  | "normal"
  | "three-parameter weibull";

/** A parameter as it is reported: sign * theta[index], or its exponential where it is kept as a logarithm. */
export interface LawParameter {
  readonly name: string;
  /** Name of what the covariance is of, "logShape" where the parameter is positive. */
  readonly transformedName: string;
  readonly index: 0 | 1 | 2;
  readonly sign: 1 | -1;
  readonly isLog: boolean;
}

/**
 * A law as a standard law moved and stretched. Inside, every law has the coordinates theta = (mu, log sigma, third) with
 *
 *   w = (y - mu) / sigma,   y = log t, or t itself on the natural scale, or log(t - threshold)
 *
 * where `third` is Prentice's Q, the log shape of the gamma law, the threshold, or unused (0).
 */
export interface LawFamily {
  readonly name: LawName;
  readonly standard: StandardLaw;
  readonly ageScale: "log" | "natural" | "above threshold";
  /** Coordinates of theta that are free; a fixed one is 0. */
  readonly free: readonly (0 | 1 | 2)[];
  readonly parameters: readonly LawParameter[];
}

const positive = (name: string, index: 0 | 1 | 2, sign: 1 | -1 = 1): LawParameter => ({
  name,
  transformedName: `log${name[0]!.toUpperCase()}${name.slice(1)}`,
  index,
  sign,
  isLog: true,
});
const real = (name: string, index: 0 | 1 | 2): LawParameter => ({
  name,
  transformedName: name,
  index,
  sign: 1,
  isLog: false,
});

/**
 * Every law, with its parametrisation:
 *   weibull                  S = exp(-(t / scale)^shape);                      mu = log scale, sigma = 1 / shape
 *   exponential              S = exp(-t / scale);                              scale is the mean
 *   lognormal                log t is normal with mean mu, deviation sigma
 *   loglogistic              S = 1 / (1 + (t / scale)^shape);                  mu = log scale, sigma = 1 / shape
 *   gamma                    f = (t / scale)^(shape - 1) exp(-t / scale) / (scale Gamma(shape));  mean shape * scale
 *   generalised gamma        log t = mu + sigma w, w = log(Q^2 G) / Q, G gamma with shape 1/Q^2 and scale 1
 *   smallest extreme value   S = exp(-exp((t - mu) / sigma)), t on the whole line
 *   normal                   t normal with mean mu, deviation sigma, t on the whole line
 *   three-parameter weibull  S = exp(-((t - threshold) / scale)^shape) for t > threshold, 1 before
 *
 * Source  Lawless (2003), Statistical Models and Methods for Lifetime Data, section 1.3; Prentice (1974), Biometrika 61.
 */
export const lawFamilies: Readonly<Record<LawName, LawFamily>> = {
  weibull: {
    name: "weibull",
    standard: extremeValue,
    ageScale: "log",
    free: [0, 1],
    parameters: [positive("shape", 1, -1), positive("scale", 0)],
  },
  exponential: {
    name: "exponential",
    standard: extremeValue,
    ageScale: "log",
    free: [0],
    parameters: [positive("scale", 0)],
  },
  lognormal: {
    name: "lognormal",
    standard: gaussian,
    ageScale: "log",
    free: [0, 1],
    parameters: [positive("sigma", 1), real("mu", 0)],
  },
  loglogistic: {
    name: "loglogistic",
    standard: logistic,
    ageScale: "log",
    free: [0, 1],
    parameters: [positive("shape", 1, -1), positive("scale", 0)],
  },
  gamma: {
    name: "gamma",
    standard: logGammaLaw,
    ageScale: "log",
    free: [0, 2],
    parameters: [positive("shape", 2), positive("scale", 0)],
  },
  "generalised gamma": {
    name: "generalised gamma",
    standard: prentice,
    ageScale: "log",
    free: [0, 1, 2],
    parameters: [positive("sigma", 1), real("Q", 2), real("mu", 0)],
  },
  "smallest extreme value": {
    name: "smallest extreme value",
    standard: extremeValue,
    ageScale: "natural",
    free: [0, 1],
    parameters: [positive("sigma", 1), real("mu", 0)],
  },
  normal: {
    name: "normal",
    standard: gaussian,
    ageScale: "natural",
    free: [0, 1],
    parameters: [positive("sigma", 1), real("mu", 0)],
  },
  "three-parameter weibull": {
    name: "three-parameter weibull",
    standard: extremeValue,
    ageScale: "above threshold",
    free: [0, 1, 2],
    parameters: [positive("shape", 1, -1), positive("scale", 0), real("threshold", 2)],
  },
};

/** (mu, log sigma, third). */
export type Theta = readonly [mu: number, logSigma: number, third: number];

/** A parameter's value at theta. */
export function parameterValue({ index, sign, isLog }: LawParameter, theta: Theta): number {
  const value = sign * theta[index];
  return isLog ? Math.exp(value) : value;
}
