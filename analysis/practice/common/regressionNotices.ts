import type { PracticeNotice } from "../types.ts";

/** Fewer failures than this for each coefficient and estimates are too far from 0, their errors too small. */
const FAILURES_PER_COEFFICIENT = 10;
/** Fewer clusters than this and a covariance by cluster is too small. */
const FEW_CLUSTERS = 30;

/**
 * What a reader must know beside a regression.
 * Source  Peduzzi et al. (1995), J. Clin. Epidemiol. 48, 1503-1510 (ten failures a coefficient); thirty clusters: common
 *         practice, no source.
 */
export function regressionNotices({
  failures,
  coefficients,
  clusters,
  isPenalised,
}: {
  readonly failures: number;
  readonly coefficients: number;
  readonly clusters: number | null;
  readonly isPenalised: boolean;
}): PracticeNotice[] {
  const notices: PracticeNotice[] = [];
  if (coefficients > 0 && failures < FAILURES_PER_COEFFICIENT * coefficients) {
    notices.push({ code: "few-failures-per-coefficient", facts: { failures, coefficients } });
  }
  if (clusters !== null && clusters < FEW_CLUSTERS) notices.push({ code: "few-clusters", facts: { clusters } });
  if (isPenalised) notices.push({ code: "penalised", facts: {} });
  return notices;
}
