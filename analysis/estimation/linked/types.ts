/**
 * One restoration of an item whose defect leads to a failure: sound until D, defective until L = D + delay, then failed.
 * Ages in one unit, all since the same restoration.
 */
export interface LinkedHistory {
  /** The defect came in (from, to]; equal where its age is known; `to` null: not seen by `from`, or nobody looked. */
  readonly defect: { readonly from: number; readonly to: number | null };
  /** The failure came in (from, to]; equal where its age is known; `to` null: not by `from`. */
  readonly failure: { readonly from: number; readonly to: number | null };
  /** Age at which the item was seen sound when it entered observation. */
  readonly entry: number;
}

export interface WeibullPair {
  /** Law of the time to the defect. */
  readonly defect: { readonly shape: number; readonly scale: number };
  /** Law of the delay from defect to failure. */
  readonly delay: { readonly shape: number; readonly scale: number };
}
