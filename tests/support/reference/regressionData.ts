/** Reads the data of a regression case: rows, a model formula, names of coefficients. */
import { z } from "zod";
import { designMatrix } from "../../../analysis/practice/design/designMatrix.ts";
import {
  type PlannedTerm,
  planDesign,
  type TermWanted,
  type Variable,
} from "../../../analysis/practice/design/planDesign.ts";
import type { DesignMatrix } from "../../../analysis/practice/types.ts";

export const regressionRowsSchema = z.record(z.string(), z.array(z.union([z.number(), z.string(), z.null()])));
export type RegressionData = z.infer<typeof regressionRowsSchema>;

/** "Surv(time, status) ~ a + b + strata(c)": what stands in the brackets, the terms, the stratum. */
export function readFormula(model: string): {
  readonly response: readonly string[];
  readonly terms: readonly string[];
  readonly stratum: string | null;
} {
  const [, response = "", right = ""] = /^Surv\(([^)]*)\) ~ (.*)$/.exec(model) ?? [];
  const words = right.split(" + ");
  const stratum = words.map((word) => /^strata\((.*)\)$/.exec(word)?.[1]).find((word) => word !== undefined) ?? null;
  return { response: response.split(", "), terms: words.filter((word) => !word.startsWith("strata(")), stratum };
}

export function numberColumn(rows: RegressionData, name: string): number[] {
  return z.array(z.number()).parse(rows[name]);
}

export function wordColumn(rows: RegressionData, name: string): string[] {
  return z.array(z.string()).parse(rows[name]);
}

function variablesOf(rows: RegressionData, terms: readonly string[]): Variable[] {
  return terms.map((name) =>
    typeof rows[name]?.[0] === "string"
      ? { name, kind: "factor", values: wordColumn(rows, name) }
      : { name, kind: "number", values: numberColumn(rows, name) },
  );
}

/**
 * @param expectedNames  Names of the expected coefficients, "celltypelarge": a level that is not among them is the reference.
 */
export function planOfCase(
  rows: RegressionData,
  terms: readonly string[],
  expectedNames: readonly string[],
): readonly PlannedTerm[] {
  const variables = variablesOf(rows, terms);
  const wanted = variables.map((variable): TermWanted => {
    if (variable.kind === "number") return { kind: "number", variable: variable.name };
    const reference = variable.values.find((level) => !expectedNames.includes(variable.name + level));
    return { kind: "factor", variable: variable.name, ...(reference === undefined ? {} : { reference }) };
  });
  return planDesign(variables, wanted);
}

export function designOfCase(
  rows: RegressionData,
  terms: readonly string[],
  plan: readonly PlannedTerm[],
): DesignMatrix {
  const variables = variablesOf(rows, terms);
  return designMatrix(plan, variables, variables[0]?.values.length ?? 0);
}

/** "celltype: large" is written "celltypelarge" in the cases. */
export const caseName = (name: string): string => name.replace(": ", "");

/** A matrix in the order of other names. */
export function reorder(
  names: readonly string[],
  matrix: readonly (readonly number[])[],
  wanted: readonly string[],
): number[][] {
  const place = wanted.map((name) => names.indexOf(name));
  return place.map((i) => place.map((j) => matrix[i]?.[j] ?? Number.NaN));
}
