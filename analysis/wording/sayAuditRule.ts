import type { AuditRule } from "../records/audit/types.ts";

/** A rule in shop words, for the head of its group. */
export interface AuditRuleWords {
  readonly title: string;
  /** What is odd. */
  readonly odd: string;
  readonly whyItMatters: string;
  readonly whatToDo: string;
}

/** What a rule catches, why it matters, what to do. */
export function sayAuditRule(rule: AuditRule): AuditRuleWords {
  return rules[rule];
}

const rules: Readonly<Record<AuditRule, AuditRuleWords>> = {
  "runs overlap": {
    title: "Runs overlap",
    odd: "Two runs of one tool share days.",
    whyItMatters: "Both count towards the age, so the same hours may count twice.",
    whatToDo: "Correct the dates from the reports, or leave out the run that is not this tool's.",
  },
  "hours exceed dates": {
    title: "More hours than the dates allow",
    odd: "A run has more hours than its days hold, or came in before it went out.",
    whyItMatters: "Ages after it are too high. Often hours since new stand in a column of hours a run.",
    whatToDo: "Correct the hours or the date.",
  },
  "zero hours of a long run": {
    title: "0 hours of a long run",
    odd: "A run of three days or more has 0 hours.",
    whyItMatters: "0 mostly means not known. It is taken as not written down, so ages become ranges.",
    whatToDo: "Write the hours from the report; accept where the tool truly did not run.",
  },
  "hours missing": {
    title: "Hours missing",
    odd: "A run came in without hours.",
    whyItMatters: "Every age after it is only a range, so each life says less.",
    whatToDo: "Write the hours from the report. Without it, leave it as it is; nothing is guessed.",
  },
  "age falls without a restoration": {
    title: "Age falls without a restoration",
    odd: "An item carried over is younger, or less worn, than it was.",
    whyItMatters: "It was renewed unwritten, or is another one: its life is then two lives taken for one.",
    whatToDo: "Write the renewal on the build sheet, or correct the hours or the measurement.",
  },
  "serial in two places": {
    title: "One serial in two places",
    odd: "A tool was out twice at a time, or an item was in two tools.",
    whyItMatters: "Hours go to the wrong tool or item: too many here, too few there.",
    whatToDo: "Find out which serial was misread and correct it.",
  },
  "teardown without run": {
    title: "Teardown without a run",
    odd: "A tool was taken apart though no run is written since its redress.",
    whyItMatters: "The runs are missing, so the items look younger than they are.",
    whatToDo: "Bring the missing run reports; accept where it was opened without running.",
  },
  "run without build": {
    title: "Run without a build",
    odd: "A tool ran with no build or redress behind it.",
    whyItMatters: "What was renewed is not known, so ages run on over new parts or cannot be used at all.",
    whatToDo: "Bring the build sheet.",
  },
  "torque unit suspect": {
    title: "Torque in another unit?",
    odd: "A torque is off by the ratio of ft-lbf to N·m, 1.356.",
    whyItMatters: "It would count as over- or under-torqued, and build practice would learn from a slip of the pen.",
    whatToDo: "Look at the sheet or the torque log and say which unit was meant. Accept a torque that was truly so.",
  },
  "torque not written": {
    title: "No number for the torque",
    odd: "A joint was made up and its final torque is blank or a word.",
    whyItMatters: "The joint cannot tell anything about torque and life.",
    whatToDo: "Write the number if it was logged. The target is never taken instead.",
  },
  "temperature unit suspect": {
    title: "Temperature in another unit?",
    odd: "A temperature does not fit its depth, but would in the other unit.",
    whyItMatters: "Heat ages rubber: a hot run counted as cool makes seals look weaker than they are.",
    whatToDo: "Look at the report and say which unit was meant. Accept a well that was truly so.",
  },
  "hours heaped": {
    title: "Hours rounded",
    odd: "Too many hours end on whole tens or fives.",
    whyItMatters: "Rounded hours are known to a few hours only, while the fit takes them as exact.",
    whatToDo: "Ask for hours as logged. Accept if the rounding is small against the lives.",
  },
  "duplicate run": {
    title: "Run written twice",
    odd: "Two rows tell of the same run.",
    whyItMatters: "Its hours and its outcome would count twice. One of them is left out in any case.",
    whatToDo: "Leave one out.",
  },
  "split run": {
    title: "One run written as two",
    odd: "A run goes on in the same well, at the same depth, where another stopped.",
    whyItMatters: "Runs count twice, and the reason of the first part is no reason for pulling.",
    whatToDo:
      "Join them: leave the second out and correct hours, date in and reason of the first. Accept two true runs.",
  },
  "planned redress of a failed tool": {
    title: "Planned, but it had failed",
    odd: "A teardown or redress is written as planned, but the tool had failed.",
    whyItMatters: "A failure passes for a tool taken in good time, and the shop looks better than it is.",
    whatToDo: "Correct the reason, or the finding.",
  },
  "failed item refitted": {
    title: "Found failed, refitted",
    odd: "An item was found failed and the next build sheet carries it over.",
    whyItMatters: "Until it is restored the item tells nothing; if it was in fact renewed, a life is lost.",
    whatToDo: "Correct the build sheet, or the severity of the finding.",
  },
  "other too often": {
    title: '"Other" too often',
    odd: 'More than 15 % of the reasons are "other".',
    whyItMatters: "Failures may hide under it.",
    whatToDo: "Go through the runs and name the reason.",
  },
  "sound looks rarely written": {
    title: "Sound items rarely written down",
    odd: "Of the items on the checklist in which nothing was found, fewer than four in five are written as sound.",
    whyItMatters: "A sound look is evidence. Unwritten, it counts less or not at all, and failures look more frequent.",
    whatToDo: 'Ask for "sound" to be written for each item looked at.',
  },
  "failure reported late": {
    title: "Reported late",
    odd: "A report came in long after the tool, or a failure showed only at a teardown.",
    whyItMatters: "Where bad news is slower than good, the newest months look too good.",
    whatToDo: "Check the dates. Where they are right, accept, and read the newest months with care.",
  },
  "out but silent": {
    title: "Out but silent",
    odd: "A tool is out and nothing is heard of it.",
    whyItMatters: "Tools that are quietly gone make those that came back look better.",
    whatToDo: "Ask for the report; write the tool as lost where it is.",
  },
  "returned, not torn down": {
    title: "Came in, not torn down",
    odd: "A tool came in long ago and nothing is written since.",
    whyItMatters: "What it could show of hidden failures is not known; the teardown may be missing.",
    whatToDo: "Bring the teardown, or accept where the tool is resting.",
  },
  "teardown of another serial suspected": {
    title: "Teardown of another tool?",
    odd: "A teardown does not fit its tool, while another tool of the same type and size lacks one.",
    whyItMatters: "Failures go to the wrong history: one tool gets a look it never had, another loses it.",
    whatToDo: "Look at the teardown sheet and the photos, and correct the serial.",
  },
  "reason not written": {
    title: "Reason not written",
    odd: "Why a tool was pulled, torn down or redressed is not written.",
    whyItMatters: "It is never taken as planned, so it may be a failure nobody counts.",
    whatToDo: "Write the reason.",
  },
};
