import { AnalysisError } from "../../errors.ts";
import type { DesignMatrix } from "../types.ts";

/**
 * Errors  "bad-setting" where design or clusters do not fit the lives, a column name stands twice or a value is not finite.
 */
export function checkDesign(design: DesignMatrix, lives: number, clusters: readonly string[] | undefined): void {
  const { rows, names, values } = design;
  const refuse = (setting: string, value: string | number, allowed: string): never => {
    throw new AnalysisError("bad-setting", { setting, value, allowed });
  };
  if (rows !== lives) refuse("rows of the design", rows, `one a life (${lives})`);
  if (values.length !== rows * names.length) {
    refuse("values of the design", values.length, `rows x columns (${rows * names.length})`);
  }
  if (clusters && clusters.length !== lives) refuse("clusters", clusters.length, `one a life (${lives})`);
  const twice = names.find((name, j) => names.indexOf(name) !== j);
  if (twice !== undefined) refuse("column of the design", twice, "each name once");
  const bad = values.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    const row = Math.floor(bad / names.length) + 1;
    refuse(`column ${names[bad % names.length]} of the design, row ${row}`, String(values[bad]), "a finite number");
  }
}
