import type { ComparedGroup, FitChecks, GroupBy, GroupsCompared, LookSensitivity } from "../study/partTypes.ts";
import type { Estimate } from "../study/types.ts";
import { formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatConfidence } from "./formatEstimate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { formatSize } from "./formatSize.ts";
import { countOf } from "./inWords.ts";

/** Under this p-value a difference is said. Common practice, no source. */
const SHOWN = 0.05;

export interface SaidCheck {
  readonly name: string;
  readonly says: string;
  /** Whether a reader should stop here. */
  readonly isDoubtful: boolean;
}

const p = (value: number): string => `p = ${formatNumber(value, 2)}`;

/** Why there is nothing to say of a part. */
export function sayWhyNoPart({ why, mode }: Pick<FitChecks, "why" | "mode">): string | null {
  if (why === "linked modes")
    return `${mode} leads to another failure and both are fitted together; these checks are for a mode that stands alone.`;
  return why === "no fit" ? "These lives settle no curve, so there is nothing to check yet." : null;
}

/** Every check of a fit as a sentence, in the order in which they matter. */
export function sayChecks(checks: FitChecks): readonly SaidCheck[] {
  return [
    sayGoodness(checks),
    sayTwoPatterns(checks),
    sayDrift(checks),
    sayRenewal(checks),
    sayInfluence(checks),
  ].flatMap((said) => said ?? []);
}

function sayGoodness({ goodness }: FitChecks): SaidCheck | null {
  if (goodness === null) return null;
  const isDoubtful = goodness.pValue < SHOWN;
  return {
    name: "Does the curve follow the lives?",
    isDoubtful,
    says: isDoubtful
      ? `No: of ${formatExact(goodness.simulations)} sets of lives simulated from the curve few lie as far from theirs (${p(goodness.pValue)}). Read the steps, or another law.`
      : `Nothing against it: ${p(goodness.pValue)} by ${formatExact(goodness.simulations)} simulated sets of lives, each followed as these were.`,
  };
}

function sayTwoPatterns({ twoPatterns, twoPatternsWhy }: FitChecks): SaidCheck {
  const name = "One pattern, or two mixed?";
  if (twoPatterns === null)
    return {
      name,
      isDoubtful: false,
      says:
        twoPatternsWhy === "late entry"
          ? "Not asked: some lives enter in mid-life, where early failures would be gone already."
          : "A second pattern could not be told from these lives.",
    };
  const isDoubtful = twoPatterns.pValue < SHOWN;
  return {
    name,
    isDoubtful,
    says: isDoubtful
      ? `Two fit better (${p(twoPatterns.pValue)}): about ${formatNumber(100 * twoPatterns.earlyFraction, 2)} % follow one of their own, with 63 % of it failed by ${formatHours(twoPatterns.early.scale)}. Look for what those builds have in common.`
      : `No second pattern shown (${p(twoPatterns.pValue)}).`,
  };
}

function sayDrift({ drift }: FitChecks): SaidCheck | null {
  if (drift === null) return null;
  const { splitOn, pValue, ratio } = drift;
  const name = "Has it changed with time?";
  const on = formatDate(splitOn);
  if (pValue === null || ratio === null)
    return { name, isDoubtful: false, says: `Too few failures before or from ${on} to tell.` };
  const isDoubtful = pValue < SHOWN;
  return {
    name,
    isDoubtful,
    says: isDoubtful
      ? `Lives restored from ${on} on are not those of before (${p(pValue)}): one in ten fails after ${sayRatio(ratio)} times the hours.`
      : `No difference shown between lives restored before ${on} and from then on (${p(pValue)}; ${sayRatio(ratio)} times as long).`,
  };
}

function sayRenewal({ renewal }: FitChecks): SaidCheck | null {
  if (renewal === null) return null;
  const name = "Does the tenth restoration last like the first?";
  const { pValue, tenthOverFirst } = renewal;
  if (pValue === null || tenthOverFirst === null)
    return { name, isDoubtful: false, says: "Too few failures to follow life from restoration to restoration." };
  const isDoubtful = pValue < SHOWN;
  return {
    name,
    isDoubtful,
    says: isDoubtful
      ? `No: a tenth lasts ${sayRatio(tenthOverFirst)} times as long as a first, if each changes it by the same share (${p(pValue)}). A restoration does not make this as new.`
      : `No change shown from restoration to restoration (${p(pValue)}; tenth over first ${sayRatio(tenthOverFirst)}).`,
  };
}

/** A failure that moves B10 by more than a fifth is worth a look. Common practice, no source. */
const STRONG = 1.2;

function sayInfluence({ influence: [first] }: FitChecks): SaidCheck | null {
  if (first === undefined) return null;
  const isDoubtful = Math.max(first.b10Ratio, 1 / first.b10Ratio) > STRONG;
  const without = `without ${first.serial}, restored ${formatDate(first.sinceOn)}, one in ten would fail by ${formatHours(first.b10Without)}`;
  return {
    name: "Does one failure decide?",
    isDoubtful,
    says: isDoubtful ? `One does: ${without}. Look at that record first.` : `No: even ${without}.`,
  };
}

/** A ratio with its bounds: "1.4 (0.9–2.1, 90 %)". */
export function sayRatio({ value, lower, upper, confidence }: Estimate): string {
  if (value === null) return "not known";
  const bound = (end: number | null): string => (end === null ? "unbounded" : formatNumber(end));
  return `${formatNumber(value)} (${bound(lower)}–${bound(upper)}, ${formatConfidence(confidence)})`;
}

/** What the looks do to the answer, in a sentence or two. */
export function sayLookSensitivity({ dependence, detection, share }: LookSensitivity): string {
  const spread = (rows: LookSensitivity["dependence"]): string | null => {
    const known = rows.flatMap(({ b10 }) => (b10 === null ? [] : [b10]));
    return known.length < 2 ? null : `${formatHours(Math.min(...known))} to ${formatHours(Math.max(...known))}`;
  };
  const [together, missed] = [spread(dependence), spread(detection)];
  const hanging =
    dependence.length === 0
      ? "Few inspections followed another failure of the same item, so they are taken as no part of the story."
      : `${formatNumber(100 * share, 2)} % of the last inspections came because the item had failed otherwise.${together === null ? "" : ` Where the two failures hang together, one in ten has failed by ${together}, depending on how much.`}`;
  const missing = missed === null ? "" : ` Were some of what is there missed by an inspection, it would be ${missed}.`;
  return `${hanging}${missing}`;
}

export const sayGroupBy: Readonly<Record<GroupBy, string>> = {
  size: "Size",
  "tool type": "Tool type",
  elastomer: "Elastomer",
  "backup ring": "Backup ring",
  customer: "Customer",
  period: "Period of restoration",
};

/** The name of a group in words. */
export const sayGroup = (by: GroupBy, name: string): string =>
  by === "size"
    ? formatSize(Number(name))
    : by === "backup ring"
      ? name === "true"
        ? "with backup ring"
        : name === "false"
          ? "without backup ring"
          : name
      : by === "period"
        ? name.replace(/\d{4}-\d{2}-\d{2}/, (date) => formatDate(date))
        : name;

/** Do two groups last alike, in one to three sentences. */
export function sayGroupsCompared({ by, groups, compared, why, mode }: GroupsCompared): string {
  const nothing = sayWhyNoPart({ why, mode });
  if (nothing !== null) return nothing;
  if (compared === null)
    return groups.length === 0
      ? `The records of these lives do not say the ${sayGroupBy[by].toLowerCase()}.`
      : `There is one ${sayGroupBy[by].toLowerCase()} only: ${sayGroup(by, groups[0]?.name ?? "")}. Widen the scope to compare.`;
  const { first, second, sameShape, sameLife, ratio } = compared;
  const [one, other] = [first, second].map(({ name }) => sayGroup(by, name));
  if (ratio === null) {
    const short = [first, second].filter(({ shape }) => shape === null).map(({ name }) => sayGroup(by, name));
    return `${short.join(" and ")}: too few failures to settle a life of its own, so the two are not compared.`;
  }
  const alone = ratio.lower !== null && ratio.upper !== null && (ratio.lower > 1 || ratio.upper < 1);
  const life = `${one} over ${other}: one in ten has failed after ${sayRatio(ratio)} times the hours`;
  const shape =
    sameShape === null
      ? ""
      : sameShape < SHOWN
        ? ` Their shapes differ (${p(sameShape)}), so the ratio is not the same at other ages.`
        : ` No difference of shape shown (${p(sameShape)}).`;
  const same = sameLife === null ? "" : ` Of the same life with one shape: ${p(sameLife)}.`;
  return `${life}${alone ? "" : ", no difference shown yet"}.${shape}${same} They may differ in more than this; it is no cause.`;
}

/** A group's own numbers: "66 failures among 147". */
export const sayGroupCounts = ({ lives, failures }: Pick<ComparedGroup, "lives" | "failures">): string =>
  `${countOf(failures, "failure")} among ${formatExact(lives)}`;
