import type { LifeSample } from "../../estimation/types.ts";
import { chiSquareCdf } from "../../numerics/index.ts";
import { fitLifeRegression } from "../life/fitLifeRegression.ts";
import { lifeRegressionBounds } from "../life/lifeRegressionBounds.ts";
import type { DesignMatrix, LifeRegressionInput, RegressionLaw } from "../types.ts";
import type { Fitter, NamedColumn } from "./fitter.ts";

/** Regression of the lives of one mode under a law. `serials` names the tool of each life, in the order of the sample. */
export function lifeFitter(sample: LifeSample, serials: readonly string[], law: RegressionLaw = "weibull"): Fitter {
  return (columns) => {
    const input: LifeRegressionInput = { sample, design: designOf(columns, sample.n), law, clusters: serials };
    const fit = fitLifeRegression(input);
    if (fit.maximum !== "found" || fit.robustCovariance === null) return null;
    const { matrix } = fit.covariance;
    const byTool = fit.robustCovariance.matrix;
    return {
      logLikelihood: fit.logLikelihood,
      coefficients: fit.coefficients.slice(1),
      errors: columns.map((_, j) => Math.sqrt(matrix[1 + j]![1 + j]!)),
      errorsByTool: columns.map((_, j) => Math.sqrt(byTool[1 + j]![1 + j]!)),
      covariance: columns.map((_, i) => columns.map((_, j) => matrix[1 + i]![1 + j]!)),
      spread: fit.spread,
      ends: (column, twiceDrop) => {
        const confidence = chiSquareCdf(twiceDrop, 1);
        const [bounds] = lifeRegressionBounds(fit, input, { confidence, names: [columns[column]!.name] });
        return [bounds!.lower, bounds!.upper];
      },
    };
  };
}

function designOf(columns: readonly NamedColumn[], rows: number): DesignMatrix {
  const k = columns.length;
  const values = new Float64Array(rows * k);
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) values[i * k + j] = column.values[i]!;
  });
  return {
    rows,
    names: columns.map(({ name }) => name),
    values,
    terms: columns.map(({ name }, j) => ({ name, columns: [j] })),
  };
}
