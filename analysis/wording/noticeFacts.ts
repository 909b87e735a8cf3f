import type { Notice } from "../study/types.ts";

/**
 * What each notice must say beside its code, so that it can be worded. The derivation and the study fill exactly these;
 * numbers are numbers, dates `YYYY-MM-DD`, sizes in inches, ages in hours.
 *
 * Notices about single rows (the first block) may be summed up: `{ count }` alone says how many rows there are.
 */
export const noticeFacts = {
  // From the derivation: about rows.
  "run-duplicate": ["run", "serial", "same_as"],
  /** `written`: hours as the sheet has them, null where blank; `hours_kind`: the other kind they were written in. */
  "run-hours-missing": ["run", "serial", "high", "written", "hours_kind"],
  "run-overlaps": ["run", "serial", "other"],
  "run-without-build": ["run", "serial", "out_on"],
  "run-hours-exceed-dates": ["run", "serial", "hours", "days"],
  "hour-seen-beyond-run": ["run", "serial", "hour", "hours"],
  "tool-not-listed": ["serial"],
  "item-not-listed": ["tool_type", "item", "mode", "count"],
  "mode-not-listed": ["tool_type", "item", "mode", "count"],
  "look-after-cutoff": ["teardown", "serial", "on"],
  "look-without-build": ["teardown", "serial", "on"],
  "lost-cause-unknown": ["serial", "run", "hours"],
  "tool-failure-no-item": ["serial", "run"],
  "out-but-silent": ["serial", "since", "status_on"],
  "severity-missing": ["teardown", "serial", "item", "mode", "threshold"],
  /** An item number fitted into `other` on a date while `serial` ran on with it. */
  "item-in-two-tools": ["item", "item_serial", "serial", "other", "on"],
  "cause-not-found": ["teardown", "serial", "item", "mode", "caused_by"],

  // From the study: about the result.
  /** Failures behind the estimate, `modes` null; or: so many `modes` have fewer than `failures` each. */
  "few-failures": ["failures", "modes"],
  /** Lives followed without one failing, and the longest age followed. */
  "no-failures": ["lives", "longest"],
  /** `maximum`: "shape not bounded above" or "scale not bounded". */
  "no-maximum": ["failures", "maximum"],
  "not-converged": ["iterations"],
  /** `reading`: "median", "b10", "mean" or "reliability"; `age` where it is read; `longest` age followed. */
  extrapolated: ["reading", "age", "longest"],
  /** `without_defect`: failures on items that were looked at and did not have the defect. */
  "linked-modes": ["item", "mode", "defect", "failure", "without_defect"],
  /** `law`: the one asked for, of a mode that is fitted jointly. */
  "law-of-linked-modes": ["law"],
  /** `law`: one that was chosen, and that these `failures` do not settle. */
  "law-without-maximum": ["law", "failures"],
  /** `law`, and the share that it lets fail before 0 h. */
  "law-before-zero": ["law", "share"],
  /** `law` with three parameters, whose curve has bounds by another method than the readings. */
  "curve-by-wald": ["law"],
  /** Closing looks, and those among them that followed a failure of the same item. */
  "informative-looks": ["informative", "looks"],
  /** Clean looks that rest on the checklist alone, of all clean looks. */
  "sound-by-scope": ["by_scope", "looks"],
  /** Lives with an age known only as a range, of all lives. */
  "ranged-ages": ["ranged", "lives"],
  /** `reading`: as in extrapolated; its lowest and highest value over the treatments of missing hours, in hours. */
  "missing-hours-matter": ["reading", "lowest", "highest"],
  /** Serials in the result, the p-value of "all serials alike", null where only the spread was seen, and whether bounds are "by serial". */
  "tools-differ": ["serials", "p_value", "bounds"],
  /**
   * From simulated fleets like this one: `failures` expected, `kind` "known age", "few looks" or "many looks"; `side` "lower" or "upper"; `missed`
   * the share whose true B10 lay beyond that 90 % bound, where 0.05 is meant.
   */
  "bounds-fall-short": ["failures", "kind", "side", "missed"],
  /** Sizes in inches with commas between: "4.75, 6.5". */
  "sizes-pooled": ["sizes"],
  /** Lives that entered in mid-life, of all lives; the age from which the curve is conditional, null where from 0. */
  "left-truncated": ["late", "lives", "from_age"],
  /** Histories left out, of all; the reason of most of them, as in `Excluded["reason"]`. */
  "excluded-lives": ["excluded", "histories", "reason"],
  /** Where fitted line and step line are farthest apart: age and the two survival fractions. */
  "poor-fit": ["age", "fitted", "steps"],
  /** `asked`: a way of having bounds; `why` it was not to be had. */
  "bounds-not-as-asked": ["asked", "why"],
  /** `kind`: "fixed", "prior" or "pooled"; the range and how sure of it; groups and failures that were pooled, else null. */
  "shape-taken": ["kind", "low", "high", "sure", "groups", "failures"],
  "shape-not-taken": ["why"],
  /** Comparisons that were tested together. */
  "many-comparisons": ["tested"],
  /** Lives whose build sheet does not write the practice as a number or a name, of all that it applies to. */
  "practice-not-written": ["practice", "missing", "lives"],
  /** A defect regressed together with the failure it leads to. */
  "linked-comparison": ["item", "mode", "failure"],
  "restoration-statement": ["statement"],
  /** `planned`: a recorded or given cost, null where it is the unit; `ratio`: a failure in planned redresses; `found` 1: findings cost nothing more. */
  "costs-assumed": ["planned", "ratio", "found"],
  /** Recorded costs in another currency than `currency`. */
  "costs-left-out": ["count", "currency"],
  "constant-rate": ["item", "mode", "failures"],
  "interval-beyond-experience": ["age", "longest"],
  "heat-not-written": [],
  "heat-beyond-seen": ["well", "low", "high"],
  "invented-data": [],

  // From the estimation: about a number.
  "resamples-without-maximum": ["resamples", "without"],
  /** Serials that were resampled. */
  "few-groups": ["groups"],
  "bias-correction-extreme": ["belowEstimate"],
  "prior-and-lives-disagree": ["shapeOfLives", "low", "high", "standardDeviations"],
  "prior-decides": ["failures"],
  "no-spread-between-groups": ["upper"],
  "follow-up-drawn": ["lives"],
  "looks-assumed": ["lives"],
  /** B10 without the failure `id` over B10 with it. */
  "case-decides": ["row", "id", "b10Ratio"],
  "mixture-on-the-edge": ["earlyShape", "mainShape"],
  "pattern-without-maximum": [],
  /** `which`: "mode" or "other failure". */
  "margin-without-maximum": ["which"],
  "looks-missing": ["lives"],
} as const satisfies Readonly<Record<Notice["code"], readonly string[]>>;

export type NoticeFactNames = typeof noticeFacts;
