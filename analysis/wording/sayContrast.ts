/** The two sides of a comparison of build practice, as parts of a sentence. */
import type { PracticeComparison } from "../study/buildPractice/types.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";

type Compared = Pick<PracticeComparison, "practice" | "level" | "at" | "against" | "item" | "mode">;

const MILLIMETRES_AN_INCH = 25.4;

/** The one side of a comparison against the other: "made up at 0.9 of the design torque instead of 1". */
export function sayContrast({ practice, level, at, against }: Compared): string {
  const [one, other] = [at ?? 0, against ?? 0].map((value) => formatNumber(value)) as [string, string];
  switch (practice) {
    case "torque":
      return `made up at ${one} of the design torque instead of ${other}`;
    case "corrected torque":
      return `made up at ${one} of the design torque (corrected for the compound) instead of ${other}`;
    case "cycles on new threads":
      return `made up with ${timesOf(at)} on new threads instead of ${timesOf(against, true)}`;
    case "cycles on used threads":
      return `made up with ${timesOf(at)} on used threads instead of ${timesOf(against, true)}`;
    case "compound":
      return `made up with ${level} instead of another compound`;
    case "threadlocker":
      return level === "none"
        ? "made up without threadlocker instead of with it"
        : `made up with ${level} threadlocker instead of without`;
    case "shoulder treatment":
      return level === "none"
        ? "made up with a bare shoulder instead of a treated one"
        : `made up with ${level} on the shoulder instead of without`;
    case "torque tool":
      return `made up with torque tool ${level} instead of another`;
    case "days since calibration":
      return `made up ${one} days after the torque tool was calibrated instead of ${other}`;
    case "elastomer":
      return `of ${level} instead of another elastomer`;
    case "hardness":
      return `of ${one} Shore A instead of ${other}`;
    case "gap":
      return `with a gap of ${gapOf(at)} instead of ${gapOf(against)}`;
    case "cure age":
      return `fitted ${one} days after cure instead of ${other}`;
    case "backup ring":
      return level === "none"
        ? "without backup ring instead of with one"
        : `with backup ring ${level} instead of otherwise`;
  }
}

/** "no make-and-break", "1 make-and-break", "3 make-and-breaks"; `bare` leaves the noun to what was said before. */
function timesOf(count: number | null, bare = false): string {
  const times = Math.round(count ?? 0);
  const number = times === 0 ? "no" : formatExact(times);
  return bare ? (times === 0 ? "none" : number) : `${number} make-and-break${times > 1 ? "s" : ""}`;
}

const gapOf = (millimetres: number | null): string =>
  `${formatNumber(millimetres ?? 0)} mm (${formatNumber((millimetres ?? 0) / MILLIMETRES_AN_INCH, 2)} in)`;

/** The two sides of a comparison by name, for a plan: "0.9", "1"; "zinc paste", "another". */
export function saySides({ level, at, against, unit }: PracticeComparison): readonly [at: string, against: string] {
  if (at === null || against === null) return [level ?? "", level === "none" ? "with" : "without or another"];
  const of = unit === null ? "" : ` ${unit}`;
  return [`${formatNumber(at)}${of}`, `${formatNumber(against)}${of}`];
}
