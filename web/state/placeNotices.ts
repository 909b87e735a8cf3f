import type { Notice } from "../../analysis/index.ts";

/** Where a notice stands: beside the number it qualifies. */
export type NoticePlace = "answer" | "comparisons" | "readings" | "counts" | "missing hours" | "costs" | "records";

const places: Partial<Record<Notice["code"], NoticePlace>> = {
  "invented-data": "answer",
  "many-comparisons": "comparisons",
  "practice-not-written": "comparisons",
  "linked-comparison": "comparisons",
  "few-failures": "readings",
  "no-failures": "readings",
  "no-maximum": "readings",
  "not-converged": "readings",
  extrapolated: "readings",
  "poor-fit": "readings",
  "linked-modes": "readings",
  "law-of-linked-modes": "readings",
  "law-without-maximum": "readings",
  "law-before-zero": "readings",
  "curve-by-wald": "readings",
  "bounds-not-as-asked": "readings",
  "shape-taken": "readings",
  "shape-not-taken": "readings",
  "resamples-without-maximum": "readings",
  "few-groups": "readings",
  "bias-correction-extreme": "readings",
  "prior-and-lives-disagree": "readings",
  "prior-decides": "readings",
  "tools-differ": "readings",
  "bounds-fall-short": "readings",
  "sizes-pooled": "readings",
  "costs-assumed": "costs",
  "costs-left-out": "costs",
  "constant-rate": "readings",
  "interval-beyond-experience": "answer",
  "heat-not-written": "answer",
  "heat-beyond-seen": "answer",
  "informative-looks": "counts",
  "sound-by-scope": "counts",
  "left-truncated": "counts",
  "excluded-lives": "counts",
  "ranged-ages": "missing hours",
  "missing-hours-matter": "missing hours",
};

/** Notices of one place, in the order of the result. A code without a place of its own is about the records. */
export const noticesAt = (notices: readonly Notice[], place: NoticePlace): readonly Notice[] =>
  notices.filter(({ code }) => (places[code] ?? "records") === place);
