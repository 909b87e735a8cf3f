import { AnalysisError } from "../../errors.ts";
import { splineKnots } from "./naturalSpline.ts";

/** An explanatory variable, one value a life. */
export type Variable =
  | { readonly name: string; readonly kind: "number"; readonly values: ArrayLike<number> }
  | { readonly name: string; readonly kind: "factor"; readonly values: readonly string[] };

/** What goes into the model. A factor's reference level is the first in the order of code points unless named. */
export type TermWanted =
  | { readonly kind: "number"; readonly variable: string }
  | { readonly kind: "factor"; readonly variable: string; readonly reference?: string }
  | { readonly kind: "spline"; readonly variable: string; readonly knots: number | readonly number[] }
  | { readonly kind: "interaction"; readonly of: readonly [TermWanted, TermWanted] };

/** A term with its levels and knots settled: plain data, so that new rows are written as the old ones were. */
export type PlannedTerm =
  | { readonly kind: "number"; readonly variable: string }
  | {
      readonly kind: "factor";
      readonly variable: string;
      readonly reference: string;
      readonly levels: readonly string[];
    }
  | { readonly kind: "spline"; readonly variable: string; readonly knots: readonly number[] }
  | { readonly kind: "interaction"; readonly of: readonly [PlannedTerm, PlannedTerm] };

/**
 * Settles the levels of factors and the knots of splines from the data at hand.
 *
 * Errors  "bad-setting" for a variable that is not there or of the other kind, a reference level that never occurs,
 *         fewer than two levels, or knots that cannot be placed.
 */
export function planDesign(variables: readonly Variable[], terms: readonly TermWanted[]): PlannedTerm[] {
  return terms.map((term) => planTerm(variables, term));
}

function planTerm(variables: readonly Variable[], term: TermWanted): PlannedTerm {
  switch (term.kind) {
    case "interaction":
      return { kind: "interaction", of: [planTerm(variables, term.of[0]), planTerm(variables, term.of[1])] };
    case "number":
      numbersOf(variables, term.variable);
      return { kind: "number", variable: term.variable };
    case "spline": {
      const values = numbersOf(variables, term.variable);
      const knots = typeof term.knots === "number" ? splineKnots(term.variable, values, term.knots) : term.knots;
      if (knots.length < 3 || !knots.every((knot, j) => j === 0 || knot > knots[j - 1]!)) {
        throw new AnalysisError("bad-setting", {
          setting: `knots of ${term.variable}`,
          value: knots.join(", "),
          allowed: "three or more, ascending",
        });
      }
      return { kind: "spline", variable: term.variable, knots };
    }
    case "factor": {
      const values = levelsOf(variables, term.variable);
      const all = [...new Set(values)].sort();
      const reference = term.reference ?? all[0] ?? "";
      if (all.length < 2 || !all.includes(reference)) {
        throw new AnalysisError("bad-setting", {
          setting: `levels of ${term.variable}`,
          value: all.length < 2 ? all.length : reference,
          allowed: all.length < 2 ? "two or more" : all.join(", "),
        });
      }
      return { kind: "factor", variable: term.variable, reference, levels: all.filter((level) => level !== reference) };
    }
  }
}

export function numbersOf(variables: readonly Variable[], name: string): ArrayLike<number> {
  const found = variables.find((variable) => variable.name === name);
  if (found?.kind === "number") return found.values;
  throw new AnalysisError("bad-setting", { setting: "variable", value: name, allowed: "a number that the lives have" });
}

export function levelsOf(variables: readonly Variable[], name: string): readonly string[] {
  const found = variables.find((variable) => variable.name === name);
  if (found?.kind === "factor") return found.values;
  throw new AnalysisError("bad-setting", { setting: "variable", value: name, allowed: "a factor that the lives have" });
}
