import type { PracticeNotice, RegressionMaximum } from "../practice/types.ts";
import { countOf, listOf } from "./inWords.ts";

/** What a reader must know beside a regression, in one or two short sentences. */
export function sayRegressionNotice({ code, facts }: PracticeNotice): string {
  const whole = (name: string): number => Number(facts[name] ?? 0);
  switch (code) {
    case "few-failures-per-coefficient":
      return `${countOf(whole("failures"), "failure")} for ${countOf(whole("coefficients"), "effect")}: fewer than ten for each. Estimates then lie too far from no effect, and their bounds are too narrow.`;
    case "few-clusters":
      return `The bounds allow for lives of one tool being alike, by ${countOf(whole("clusters"), "tool")}. With fewer than thirty they are too narrow.`;
    case "penalised":
      return "The effects are drawn towards no effect, because the lives alone do not bound them all. They are not plain estimates.";
  }
}

/** Why there is no regression, and what to do. */
export function sayNoRegression(maximum: Exclude<RegressionMaximum, "found">, names: readonly string[] = []): string {
  const which = listOf(names.map((name) => `"${name}"`));
  switch (maximum) {
    case "no failures":
      return "Nothing has failed here yet, so nothing can be said about what makes the difference.";
    case "separated":
      return `The effect of ${which} has no end: every failure, or none, is on one side of it. Group it more coarsely, or ask for the estimate drawn towards no effect.`;
    case "columns dependent":
      return `${which} cannot be told apart from the other variables: it is always the same, or follows from them. Leave it out.`;
    case "spread shrinks to 0":
      return "The variables explain every life exactly. There are too many of them for so few lives; leave some out.";
    case "not converged":
      return "The search for the estimates did not settle. Leave out variables, or group them more coarsely.";
  }
}
