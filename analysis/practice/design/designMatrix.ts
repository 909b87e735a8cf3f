import { AnalysisError } from "../../errors.ts";
import type { DesignMatrix, DesignTerm } from "../types.ts";
import { naturalSpline } from "./naturalSpline.ts";
import { levelsOf, numbersOf, type PlannedTerm, type Variable } from "./planDesign.ts";

/** One column with its name. */
interface Column {
  readonly name: string;
  readonly at: (row: number) => number;
}

/**
 * Writes explanatory variables as numbers.
 *
 * @param rows     Number of lives.
 * Conventions     Factor: one column a level but the reference, 1 where the life has it, named "variable: level". Spline: the
 *                 variable itself and its bends, "variable, bend 1". Interaction: products of all pairs, "a x b".
 * Errors          "bad-setting" for a variable of the wrong length, a level that the plan does not know, or a value that is
 *                 not a finite number: lives with missing values are left out, and told, before this.
 */
export function designMatrix(plan: readonly PlannedTerm[], variables: readonly Variable[], rows: number): DesignMatrix {
  const columns: Column[] = [];
  const terms: DesignTerm[] = [];
  for (const term of plan) {
    const own = columnsOf(term, variables, rows);
    terms.push({ name: nameOf(term), columns: own.map((_, j) => columns.length + j) });
    columns.push(...own);
  }
  const k = columns.length;
  const values = new Float64Array(rows * k);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) values[i * k + j] = column.at(i);
  });
  return { rows, names: columns.map(({ name }) => name), values, terms };
}

function nameOf(term: PlannedTerm): string {
  return term.kind === "interaction" ? `${nameOf(term.of[0])} x ${nameOf(term.of[1])}` : term.variable;
}

function columnsOf(term: PlannedTerm, variables: readonly Variable[], rows: number): Column[] {
  if (term.kind === "interaction") {
    const [left, right] = [columnsOf(term.of[0], variables, rows), columnsOf(term.of[1], variables, rows)];
    return left.flatMap((a) =>
      right.map((b) => ({ name: `${a.name} x ${b.name}`, at: (row: number) => a.at(row) * b.at(row) })),
    );
  }
  const { variable } = term;
  const refuse = (setting: string, value: string | number, allowed: string): never => {
    throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  if (term.kind === "factor") {
    const values = levelsOf(variables, variable);
    if (values.length !== rows) refuse(`values of ${variable}`, values.length, `one a life (${rows})`);
    const strange = values.find((value) => value !== term.reference && !term.levels.includes(value));
    if (strange !== undefined) refuse(`level of ${variable}`, strange, [term.reference, ...term.levels].join(", "));
    return term.levels.map((level) => ({
      name: `${variable}: ${level}`,
      at: (row) => (values[row] === level ? 1 : 0),
    }));
  }
  const values = numbersOf(variables, variable);
  if (values.length !== rows) refuse(`values of ${variable}`, values.length, `one a life (${rows})`);
  for (let i = 0; i < rows; i++) {
    if (!Number.isFinite(values[i])) refuse(`${variable}, row ${i + 1}`, String(values[i]), "a finite number");
  }
  if (term.kind === "number") return [{ name: variable, at: (row) => values[row]! }];
  const bends = Array.from({ length: rows }, (_, row) => naturalSpline(values[row]!, term.knots));
  return Array.from({ length: term.knots.length - 1 }, (_, j) => ({
    name: j === 0 ? variable : `${variable}, bend ${j}`,
    at: (row: number) => bends[row]![j]!,
  }));
}
