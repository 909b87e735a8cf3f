/** What a reader must know beside a number of the estimation layer: a code with facts, worded elsewhere. */
export interface EstimationNotice {
  readonly code:
    | "resamples-without-maximum"
    | "few-groups"
    | "bias-correction-extreme"
    | "prior-and-lives-disagree"
    | "prior-decides"
    | "no-spread-between-groups"
    | "follow-up-drawn"
    | "looks-assumed"
    | "case-decides"
    | "mixture-on-the-edge"
    | "pattern-without-maximum"
    | "margin-without-maximum"
    | "looks-missing";
  readonly facts: Readonly<Record<string, string | number | null>>;
}
