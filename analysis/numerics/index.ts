/**
 * The one face of the numerics. Argument order is that of the literature: shape parameters first for the special
 * functions, the point or the probability first for the distributions.
 *
 * Written here rather than taken from jstat 1.9.6: measured against R 4.2.2 its gamma functions are off by up to 2.8e-9, its
 * incomplete beta by 9e-8, its quantiles by 1e-8 to more than 1, and it has no upper tails, where bounds and p-values lie.
 */
export { chiSquareCdf, chiSquareQuantile, chiSquareUpperTail } from "./chiSquare.ts";
export { binomialCdf, poissonCdf } from "./counts.ts";
export { findRoot, type RootOptions } from "./findRoot.ts";
export { fQuantile, fUpperTail } from "./fisher.ts";
export { digamma, gamma, logGamma, trigamma } from "./gammaFunction.ts";
export { gaussLegendre, type Quadrature } from "./gaussLegendre.ts";
export { beta, inverseBeta, logBeta, regularizedBeta } from "./incompleteBeta.ts";
export {
  inverseGammaP,
  inverseGammaQ,
  logComplement,
  regularizedGammaP,
  regularizedGammaQ,
} from "./incompleteGamma.ts";
export { noncentralStudentCdf, noncentralStudentQuantile } from "./noncentralStudent.ts";
export { normalCdf, normalDensity, normalLogUpperTail, normalQuantile } from "./normal.ts";
export { studentCdf, studentQuantile } from "./student.ts";
export { studentizedRangeCdf } from "./studentizedRange.ts";
