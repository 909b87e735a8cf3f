/**
 * The one face of the numerics. Argument order is that of the literature: shape parameters first for the special
 * functions, the point or the probability first for the distributions.
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
export { normalCdf, normalDensity, normalLogUpperTail, normalQuantile } from "./normal.ts";
export { studentCdf, studentQuantile } from "./student.ts";
