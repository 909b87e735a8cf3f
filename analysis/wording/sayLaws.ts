import type { LawComparison } from "../study/types.ts";
import { formatHours } from "./formatAge.ts";
import { listOf, sentenceCase } from "./inWords.ts";

/** AICc differences in words: under 2 the lives do not tell the laws apart, from 10 on one is clearly worse. */
const ALIKE = 2;
const CLEARLY_WORSE = 10;

export const sayLaw: Readonly<Record<LawComparison["law"], string>> = {
  weibull: "Weibull",
  lognormal: "lognormal",
  exponential: "exponential (constant risk)",
  loglogistic: "loglogistic",
  gamma: "gamma",
};

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
