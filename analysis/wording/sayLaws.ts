import type { Estimate, ItemLifeResult, LawComparison } from "../study/types.ts";
import { formatHours } from "./formatAge.ts";
import { listOf, sentenceCase } from "./inWords.ts";

/** AICc differences in words: under 2 the lives do not tell the laws apart, from 10 on one is clearly worse. */
const ALIKE = 2;
const CLEARLY_WORSE = 10;

export const sayLaw: Readonly<Record<LawComparison["law"], string>> = {
  weibull: "Weibull",
  lognormal: "lognormal",
  exponential: "exponential",
  loglogistic: "loglogistic",
  gamma: "gamma",
  "generalised gamma": "generalised gamma",
  "smallest extreme value": "smallest extreme value",
  normal: "normal",
  "three-parameter weibull": "three-parameter Weibull",
};

/** What the numbers of a fitted law are called and mean. */
export interface LawNumber {
  readonly name: string;
  readonly means: string;
  readonly estimate: Estimate;
}

type Named = readonly [name: string, means: string];

const firstNumber: Readonly<Record<LawComparison["law"], Named | null>> = {
  weibull: ["Shape", "above 1 wears out, below 1 fails early"],
  lognormal: ["Spread", "deviation of log life"],
  exponential: null,
  loglogistic: ["Shape", "above 1 the risk grows first and falls later"],
  gamma: ["Shape", "above 1 wears out, below 1 fails early"],
  "generalised gamma": ["Spread", "of log life"],
  "smallest extreme value": ["Spread", "of life"],
  normal: ["Spread", "deviation of life"],
  "three-parameter weibull": ["Shape", "above 1 wears out once the failure-free age is over"],
};
const secondNumber: Readonly<Record<LawComparison["law"], Named>> = {
  weibull: ["Scale", "63 % have failed by"],
  lognormal: ["Scale", "half have failed by"],
  exponential: ["Scale", "mean life; the risk never changes"],
  loglogistic: ["Scale", "half have failed by"],
  gamma: ["Scale", "mean life over shape"],
  "generalised gamma": ["Location", "63 % have failed by where Q is 1, half where it is 0"],
  "smallest extreme value": ["Location", "63 % have failed by"],
  normal: ["Location", "half have failed by"],
  "three-parameter weibull": ["Scale", "after the failure-free age, 63 % have failed by"],
};
const thirdNumber: { readonly [L in LawComparison["law"]]?: Named } = {
  "generalised gamma": ["Q", "1 is a Weibull law, 0 a lognormal one"],
  "three-parameter weibull": ["Failure-free age", "nothing fails before"],
};

/** The numbers of a fitted law in words: shape and scale, or what stands for them. */
export function lawNumbers({
  distribution,
  shape,
  scale,
  third,
}: NonNullable<ItemLifeResult["fit"]>): readonly LawNumber[] {
  const of = (named: Named | null | undefined, estimate: Estimate | undefined): readonly LawNumber[] =>
    named == null || estimate === undefined ? [] : [{ name: named[0], means: named[1], estimate }];
  return [
    ...of(firstNumber[distribution], shape),
    ...of(secondNumber[distribution], scale),
    ...of(thirdNumber[distribution], third),
  ];
}

/** How a law fits beside the best one. Source  Burnham & Anderson (2002), Model Selection, section 2.6 (from memory). */
export function sayLawFit({ worseBy }: Pick<LawComparison, "worseBy">): string {
  if (worseBy === 0) return "fits best";
  if (worseBy < ALIKE) return "fits alike";
  return worseBy < CLEARLY_WORSE ? "fits less well" : "fits clearly worse";
}

/**
 * Whether another law would say otherwise: which laws the lives cannot tell apart, and how far their readings part.
 *
 * @param laws  Best first, at least one.
 */
export function sayLaws(laws: readonly LawComparison[]): string {
  const alike = laws.filter(({ worseBy }) => worseBy < ALIKE);
  const range = (read: (law: LawComparison) => number): string => {
    const values = alike.map(read);
    const [least, most] = [formatHours(Math.min(...values)), formatHours(Math.max(...values))];
    return least === most ? least : `${least} to ${most}`;
  };
  const names = listOf(alike.map(({ law }) => sayLaw[law]));
  const first =
    alike.length === 1
      ? `${sentenceCase(names)} fits these lives better than the others.`
      : `${sentenceCase(names)} fit these lives alike.`;
  const readings = `One in ten has failed by ${range(({ b10 }) => b10)}, half by ${range(({ median }) => median)}, depending on the law.`;
  return alike.length === 1 ? first : `${first} ${readings}`;
}
