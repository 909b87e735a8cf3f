/** What of a build may explain how long a life lasts: known before the first run, so never an outcome. */
import type { Row } from "../../records/descriptor.ts";

export type PracticeId =
  | "torque"
  | "corrected torque"
  | "cycles on new threads"
  | "cycles on used threads"
  | "compound"
  | "threadlocker"
  | "shoulder treatment"
  | "torque tool"
  | "days since calibration"
  | "elastomer"
  | "hardness"
  | "gap"
  | "cure age"
  | "backup ring";

export interface Practice {
  readonly id: PracticeId;
  /** As it stands in a table and on an axis. */
  readonly title: string;
  /** Null for a plain ratio, a count or a name. */
  readonly unit: string | null;
  readonly kind: "number" | "name";
  /** Kinds of item it is written down for. */
  readonly on: readonly Row<"tool_items">["kind"][];
  /** Two values of a number that the trade compares; null takes the tenth and the ninetieth hundredth of those written. */
  readonly contrast: { readonly at: number; readonly against: number } | null;
  /** Practices made of the same cells: none of them may stand in for what else differed. */
  readonly sameCells: readonly PracticeId[];
  /** A name left blank means "none", where the shop writes it at least now and then. */
  readonly blankMeansNone: boolean;
}

const joint = ["joint"] as const;
const rubber = ["seal", "stack"] as const;
const number = (
  id: PracticeId,
  title: string,
  unit: string | null,
  on: Practice["on"],
  contrast: Practice["contrast"] = null,
  sameCells: readonly PracticeId[] = [],
): Practice => ({ id, title, unit, kind: "number", on, contrast, sameCells, blankMeansNone: false });
const name = (
  id: PracticeId,
  title: string,
  on: Practice["on"],
  blankMeansNone: boolean,
  sameCells: readonly PracticeId[] = [],
): Practice => ({ id, title, unit: null, kind: "name", on, contrast: null, sameCells, blankMeansNone });

/** Contrasts: 0.9 of the design torque and no cycle against three are common practice, no source. */
export const practices: readonly Practice[] = [
  number("torque", "Final torque over design torque", null, joint, { at: 0.9, against: 1 }, ["corrected torque"]),
  number(
    "corrected torque",
    "Final torque over design torque, corrected for the compound",
    null,
    joint,
    { at: 0.9, against: 1 },
    ["torque", "compound"],
  ),
  number("cycles on new threads", "Make-and-break cycles on new threads", null, joint, { at: 0, against: 3 }, [
    "cycles on used threads",
  ]),
  number("cycles on used threads", "Make-and-break cycles on used threads", null, joint, null, [
    "cycles on new threads",
  ]),
  name("compound", "Thread compound", joint, false, ["corrected torque"]),
  name("threadlocker", "Threadlocker", joint, true),
  name("shoulder treatment", "Shoulder treatment", joint, true),
  name("torque tool", "Torque tool", joint, false, ["days since calibration"]),
  number("days since calibration", "Days since the torque tool was calibrated", "days", joint, null, ["torque tool"]),
  name("elastomer", "Elastomer", rubber, false),
  number("hardness", "Hardness as fitted", "Shore A", rubber),
  number("gap", "Extrusion gap", "mm", rubber),
  number("cure age", "Age since cure when fitted", "days", rubber),
  name("backup ring", "Backup ring", rubber, true),
];

export function practiceOf(id: PracticeId): Practice {
  const found = practices.find((practice) => practice.id === id);
  if (!found) throw new RangeError(`no practice ${id}`);
  return found;
}
