export interface InformationCriteria {
  readonly aic: number;
  /** Null where n <= k + 1: the correction does not exist. */
  readonly aicc: number | null;
  readonly bic: number;
}

/**
 * Criteria that weigh fit against the number of parameters; smaller is better, only between fits to the same lives.
 *   AIC = 2k - 2 log L,   AICc = AIC + 2k(k + 1)/(n - k - 1),   BIC = k log n - 2 log L
 *
 * @param k  Number of parameters.
 * @param n  Number of lives, censored ones included.
 * Source    Akaike (1974); Hurvich & Tsai (1989); Schwarz (1978).
 */
export function informationCriteria(logLikelihood: number, k: number, n: number): InformationCriteria {
  const aic = 2 * k - 2 * logLikelihood;
  return {
    aic,
    aicc: n > k + 1 ? aic + (2 * k * (k + 1)) / (n - k - 1) : null,
    bic: k * Math.log(n) - 2 * logLikelihood,
  };
}
