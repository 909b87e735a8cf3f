/** Written by `npm run coverage-study` from tests/studies/results/coverage-study.md: do not edit. */

export interface CoverageFigure {
  readonly method: "likelihood ratio" | "Wald" | "by serial";
  /** How failures are known: at a known age, or found at up to 4 looks a life, or at more. */
  readonly kind: "known age" | "few looks" | "many looks";
  /** Tool-to-tool spread: variance of the multiplier of the hazard. */
  readonly spread: 0 | 0.3;
  /** Expected number. */
  readonly failures: number;
  /** Shares of simulated fleets whose true B10 lies below the lower, above the upper end of 90 % two-sided bounds; 0.05 is meant. */
  readonly below: number;
  readonly above: number;
}

/** Where either share is known to be well over 0.05. */
export const coverageFigures: readonly CoverageFigure[] = [
  { method: "likelihood ratio", kind: "known age", spread: 0, failures: 3, below: 0.082, above: 0.034 },
  { method: "likelihood ratio", kind: "known age", spread: 0, failures: 5, below: 0.073, above: 0.037 },
  { method: "likelihood ratio", kind: "known age", spread: 0, failures: 10, below: 0.071, above: 0.037 },
  { method: "likelihood ratio", kind: "known age", spread: 0.3, failures: 3, below: 0.083, above: 0.045 },
  { method: "likelihood ratio", kind: "known age", spread: 0.3, failures: 5, below: 0.084, above: 0.045 },
  { method: "likelihood ratio", kind: "known age", spread: 0.3, failures: 10, below: 0.074, above: 0.047 },
  { method: "likelihood ratio", kind: "few looks", spread: 0, failures: 3, below: 0.065, above: 0.038 },
  { method: "likelihood ratio", kind: "few looks", spread: 0, failures: 5, below: 0.077, above: 0.038 },
  { method: "likelihood ratio", kind: "few looks", spread: 0, failures: 10, below: 0.066, above: 0.039 },
  { method: "likelihood ratio", kind: "few looks", spread: 0.3, failures: 3, below: 0.062, above: 0.044 },
  { method: "likelihood ratio", kind: "few looks", spread: 0.3, failures: 5, below: 0.08, above: 0.044 },
  { method: "likelihood ratio", kind: "few looks", spread: 0.3, failures: 10, below: 0.073, above: 0.048 },
  { method: "likelihood ratio", kind: "many looks", spread: 0, failures: 3, below: 0.074, above: 0.038 },
  { method: "likelihood ratio", kind: "many looks", spread: 0, failures: 5, below: 0.08, above: 0.037 },
  { method: "likelihood ratio", kind: "many looks", spread: 0, failures: 10, below: 0.068, above: 0.036 },
  { method: "likelihood ratio", kind: "many looks", spread: 0.3, failures: 3, below: 0.08, above: 0.041 },
  { method: "likelihood ratio", kind: "many looks", spread: 0.3, failures: 5, below: 0.081, above: 0.044 },
  { method: "likelihood ratio", kind: "many looks", spread: 0.3, failures: 10, below: 0.077, above: 0.047 },
  { method: "Wald", kind: "known age", spread: 0, failures: 3, below: 0.188, above: 0.007 },
  { method: "Wald", kind: "known age", spread: 0, failures: 5, below: 0.151, above: 0.009 },
  { method: "Wald", kind: "known age", spread: 0, failures: 10, below: 0.126, above: 0.013 },
  { method: "Wald", kind: "known age", spread: 0, failures: 20, below: 0.097, above: 0.021 },
  { method: "Wald", kind: "known age", spread: 0, failures: 50, below: 0.078, above: 0.03 },
  { method: "Wald", kind: "known age", spread: 0.3, failures: 3, below: 0.189, above: 0.011 },
  { method: "Wald", kind: "known age", spread: 0.3, failures: 5, below: 0.167, above: 0.014 },
  { method: "Wald", kind: "known age", spread: 0.3, failures: 10, below: 0.13, above: 0.021 },
  { method: "Wald", kind: "known age", spread: 0.3, failures: 20, below: 0.104, above: 0.025 },
  { method: "Wald", kind: "known age", spread: 0.3, failures: 50, below: 0.09, above: 0.035 },
  { method: "Wald", kind: "few looks", spread: 0, failures: 3, below: 0.189, above: 0 },
  { method: "Wald", kind: "few looks", spread: 0, failures: 5, below: 0.174, above: 0.001 },
  { method: "Wald", kind: "few looks", spread: 0, failures: 10, below: 0.133, above: 0.005 },
  { method: "Wald", kind: "few looks", spread: 0, failures: 20, below: 0.1, above: 0.013 },
  { method: "Wald", kind: "few looks", spread: 0, failures: 50, below: 0.086, above: 0.023 },
  { method: "Wald", kind: "few looks", spread: 0.3, failures: 3, below: 0.192, above: 0.001 },
  { method: "Wald", kind: "few looks", spread: 0.3, failures: 5, below: 0.178, above: 0.002 },
  { method: "Wald", kind: "few looks", spread: 0.3, failures: 10, below: 0.146, above: 0.007 },
  { method: "Wald", kind: "few looks", spread: 0.3, failures: 20, below: 0.115, above: 0.016 },
  { method: "Wald", kind: "few looks", spread: 0.3, failures: 50, below: 0.091, above: 0.029 },
  { method: "Wald", kind: "many looks", spread: 0, failures: 3, below: 0.195, above: 0.004 },
  { method: "Wald", kind: "many looks", spread: 0, failures: 5, below: 0.169, above: 0.004 },
  { method: "Wald", kind: "many looks", spread: 0, failures: 10, below: 0.135, above: 0.011 },
  { method: "Wald", kind: "many looks", spread: 0, failures: 20, below: 0.105, above: 0.021 },
  { method: "Wald", kind: "many looks", spread: 0, failures: 50, below: 0.08, above: 0.027 },
  { method: "Wald", kind: "many looks", spread: 0.3, failures: 3, below: 0.201, above: 0.005 },
  { method: "Wald", kind: "many looks", spread: 0.3, failures: 5, below: 0.17, above: 0.009 },
  { method: "Wald", kind: "many looks", spread: 0.3, failures: 10, below: 0.139, above: 0.015 },
  { method: "Wald", kind: "many looks", spread: 0.3, failures: 20, below: 0.117, above: 0.023 },
  { method: "Wald", kind: "many looks", spread: 0.3, failures: 50, below: 0.092, above: 0.033 },
  { method: "by serial", kind: "known age", spread: 0, failures: 3, below: 0.15, above: 0.072 },
  { method: "by serial", kind: "known age", spread: 0, failures: 5, below: 0.067, above: 0.076 },
  { method: "by serial", kind: "known age", spread: 0, failures: 10, below: 0.053, above: 0.059 },
  { method: "by serial", kind: "known age", spread: 0.3, failures: 3, below: 0.176, above: 0.072 },
  { method: "by serial", kind: "known age", spread: 0.3, failures: 5, below: 0.09, above: 0.061 },
  { method: "by serial", kind: "known age", spread: 0.3, failures: 10, below: 0.061, above: 0.061 },
  { method: "by serial", kind: "few looks", spread: 0, failures: 3, below: 0.039, above: 0.107 },
  { method: "by serial", kind: "few looks", spread: 0, failures: 5, below: 0.011, above: 0.101 },
  { method: "by serial", kind: "few looks", spread: 0, failures: 10, below: 0.013, above: 0.087 },
  { method: "by serial", kind: "few looks", spread: 0.3, failures: 3, below: 0.076, above: 0.114 },
  { method: "by serial", kind: "few looks", spread: 0.3, failures: 5, below: 0.017, above: 0.106 },
  { method: "by serial", kind: "few looks", spread: 0.3, failures: 10, below: 0.01, above: 0.089 },
  { method: "by serial", kind: "many looks", spread: 0, failures: 3, below: 0.127, above: 0.083 },
  { method: "by serial", kind: "many looks", spread: 0, failures: 5, below: 0.047, above: 0.074 },
  { method: "by serial", kind: "many looks", spread: 0, failures: 10, below: 0.025, above: 0.07 },
  { method: "by serial", kind: "many looks", spread: 0.3, failures: 3, below: 0.166, above: 0.075 },
  { method: "by serial", kind: "many looks", spread: 0.3, failures: 5, below: 0.048, above: 0.076 },
  { method: "by serial", kind: "many looks", spread: 0.3, failures: 10, below: 0.036, above: 0.069 },
];
