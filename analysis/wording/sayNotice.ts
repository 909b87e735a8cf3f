import type { Notice } from "../study/types.ts";
import { formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { formatSize } from "./formatSize.ts";
import { formatTemperature } from "./formatTemperature.ts";
import { countOf, listOf, sentenceCase } from "./inWords.ts";
import { type NoticeFactNames, noticeFacts } from "./noticeFacts.ts";
import { sayLaw } from "./sayLaws.ts";

type Fact = string | number | null;
type FactsOf<C extends Notice["code"]> = { readonly [F in NoticeFactNames[C][number]]: Fact };
type Sayings = { readonly [C in Notice["code"]]: (facts: FactsOf<C>) => string };

/**
 * A notice in one or two short sentences: what is so, and what was done about it. Rows are not repeated; `rows` of the
 * notice leads to them.
 *
 * @param notice  Facts as `noticeFacts` lists them; a fact that is missing reads "not known".
 */
export function sayNotice(notice: Pick<Notice, "code" | "facts">): string {
  const { code, facts } = notice;
  const names: readonly string[] = noticeFacts[code];
  const summed = summaries[code];
  if (
    summed !== undefined &&
    typeof facts.count === "number" &&
    !names.some((name) => name !== "count" && name in facts)
  ) {
    return summed(facts.count);
  }
  const complete = Object.fromEntries(names.map((name) => [name, facts[name] ?? null]));
  const say = sayings[code] as (facts: Readonly<Record<string, Fact>>) => string;
  return sentenceCase(say(complete));
}

const text = (fact: Fact): string =>
  fact === null ? "not known" : typeof fact === "number" ? formatNumber(fact) : fact;
const whole = (fact: Fact): number => (typeof fact === "number" ? fact : Number(fact ?? 0));
const degrees = (fact: Fact): string => formatTemperature(typeof fact === "number" ? fact : null);
const hours = (fact: Fact): string => formatHours(typeof fact === "number" ? fact : null);
const date = (fact: Fact): string => formatDate(fact === null ? null : String(fact));
const count = (fact: Fact, one: string, many?: string): string => countOf(whole(fact), one, many);
const lawNames: Readonly<Record<string, string>> = sayLaw;
const lawName = (fact: Fact): string => lawNames[String(fact)] ?? text(fact);
const percent = (fact: Fact): string => `${formatNumber(100 * Number(fact ?? 0), 2)} %`;
const out = (fact: Fact): string => formatExact(whole(fact));

const readings: Readonly<Record<string, string>> = {
  b10: "the age by which one in ten has failed",
  median: "the age by which half have failed",
  mean: "the mean life",
  reliability: "the fraction still good",
};
const reading = (fact: Fact): string => readings[String(fact)] ?? text(fact);

const whyOtherBounds: Readonly<Record<string, string>> = {
  "other law": "they are had for the Weibull law only",
  "linked modes": "a defect and the failure it leads to are fitted together",
  "one serial": "there is one serial only",
  "resamples without a maximum": "too many of the resamples settle no curve",
};
const whyNoShape: Readonly<Record<string, string>> = {
  "other law": "it belongs to the Weibull law, and another one is read",
  "linked modes": "a defect and the failure it leads to are fitted together",
  "nothing to pool": "no other mode or size has failures enough to lend one",
};

const foundHow: Readonly<Record<string, string>> = {
  "known age": "at known ages",
  "few looks": "found at few inspections a life",
  "many looks": "found at many inspections a life",
};

const sayings: Sayings = {
  "run-duplicate": ({ run, serial, same_as }) =>
    `Run ${text(run)} of ${text(serial)} is the same as run ${text(same_as)}. Its hours are counted once.`,
  "run-hours-missing": ({ run, serial, high, written, hours_kind }) =>
    written === null
      ? `Run ${text(run)} of ${text(serial)} has no hours written down. By its dates it ran between 0 and ${hours(high)}.`
      : `Run ${text(run)} of ${text(serial)} has ${hours(written)} ${hours_kind === null ? "that cannot be used" : `of another kind (${text(hours_kind)})`}. Kinds are never mixed: it counts as a run between 0 and ${hours(high)}.`,
  "run-overlaps": ({ run, serial, other }) =>
    `Runs ${text(run)} and ${text(other)} of ${text(serial)} overlap in their dates. One tool cannot be in two wells; both are counted until one is corrected.`,
  "run-without-build": ({ run, serial, out_on }) =>
    `Run ${text(run)} of ${text(serial)}, out on ${date(out_on)}, has no build before it. Its hours are not used.`,
  "run-hours-exceed-dates": ({ run, serial, hours: written, days }) =>
    `Run ${text(run)} of ${text(serial)} has ${hours(written)} in ${count(days, "day")}. The hours are used as written; check hours and dates.`,
  "hour-seen-beyond-run": ({ run, serial, hour, hours: ran }) =>
    `Run ${text(run)} of ${text(serial)} says the failure was seen at hour ${text(hour)}, but the run lasted ${hours(ran)}. The failure is placed somewhere in the run.`,
  "tool-not-listed": ({ serial }) => `${text(serial)} is not in the list of tools. Its records are kept and not used.`,
  "item-not-listed": ({ tool_type, item, count: findings }) =>
    `${count(findings, "finding")} on ${text(item)}: tool type ${text(tool_type)} has no such item. Add the item, or its name as another word for one.`,
  "mode-not-listed": ({ tool_type, item, mode, count: findings }) =>
    `${count(findings, "finding")} of ${text(mode)} on ${text(item)} of ${text(tool_type)}: the list of modes does not have it. Add the mode, or the word for one.`,
  "look-after-cutoff": ({ teardown, serial, on }) =>
    `Teardown ${text(teardown)} of ${text(serial)} on ${date(on)} is after the cut-off and is not used.`,
  "look-without-build": ({ teardown, serial, on }) =>
    `Teardown ${text(teardown)} of ${text(serial)} on ${date(on)} has no build before it and is not used.`,
  "lost-cause-unknown": ({ serial, run, hours: age }) =>
    `${text(serial)} was lost in hole in run ${text(run)} at ${hours(age)}. What failed is not known: each mode counts as good at the last age it was known good.`,
  "tool-failure-no-item": ({ serial, run }) =>
    `Run ${text(run)} of ${text(serial)} ended with a tool failure and no item is named. It counts against the tool, not against an item.`,
  "out-but-silent": ({ serial, since, status_on }) =>
    `${text(serial)} is listed as out on ${date(status_on)}, but nothing is written down since ${date(since)}.`,
  "severity-missing": ({ teardown, serial, item, mode, threshold }) =>
    `Teardown ${text(teardown)} of ${text(serial)} names ${text(mode)} on ${text(item)} without a severity. It counts as a failure, as if at the threshold of ${text(threshold)}.`,
  "item-in-two-tools": ({ item, item_serial, serial, other, on }) =>
    `${text(item)} ${text(item_serial)} was fitted into ${text(other)} on ${date(on)}, but ${text(serial)} ran on after that with no other in its place. The hours count in ${text(other)}; check the item numbers.`,
  "cause-not-found": ({ teardown, serial, item, mode, caused_by }) =>
    `Teardown ${text(teardown)} of ${text(serial)} puts ${text(mode)} on ${text(item)} down to "${text(caused_by)}", which it does not record. The finding counts as a failure of its own.`,

  "few-failures": ({ failures, modes }) =>
    modes !== null
      ? `${count(modes, "mode")} ${whole(modes) === 1 ? "rests" : "rest"} on fewer than ${text(failures)} failures${whole(modes) === 1 ? "" : " each"}. Read the bounds, not the order.`
      : `This rests on ${count(failures, "failure")}. The bounds say how little that is; take the lower one.`,
  "no-failures": ({ lives, longest }) =>
    `None of the ${out(lives)} followed failed, the longest for ${hours(longest)}. That gives a least life, not a life.`,
  "no-maximum": ({ failures, maximum }) =>
    maximum === "shape not bounded above"
      ? `${count(failures, "failure")} so close in age that any steepness fits. No curve is fitted; the step line stands alone.`
      : `${count(failures, "failure")} cannot fix a curve. None is fitted; the step line stands alone.`,
  "not-converged": ({ iterations }) =>
    `The fit did not settle in ${count(iterations, "step")}. Do not use these numbers; the step line does not depend on the fit.`,
  extrapolated: ({ reading: what, age, longest }) =>
    `${reading(what)} is read at ${hours(age)}, beyond experience: nothing was followed longer than ${hours(longest)}.`,
  "linked-modes": ({ item, mode, defect, failure, without_defect }) =>
    `On ${text(item)}, ${text(defect)} leads to ${text(failure)}. ${
      mode === defect
        ? `Both are fitted together, since a ${text(failure)} decides when one looks; a step curve of ${text(defect)} alone would mislead and is not drawn.`
        : "Never multiply the two as if they were independent."
    }${whole(without_defect) > 0 ? ` ${count(without_defect, "failure", "failures")} came without the defect and ${whole(without_defect) === 1 ? "is" : "are"} taken as brought by something else.` : ""}`,
  "law-of-linked-modes": ({ law }) =>
    `A defect and the failure it leads to are fitted together with Weibull laws only; ${lawName(law)} was asked for and is not used.`,
  "law-without-maximum": ({ law, failures }) =>
    `${count(failures, "failure")} ${whole(failures) === 1 ? "does" : "do"} not settle the ${lawName(law)} law: its likelihood has no largest value. Read the life from another law.`,
  "law-before-zero": ({ law, share }) =>
    `The ${lawName(law)} law is not cut at 0 h: by it ${percent(share)} would have failed before they ran. Early ages do not come from such a law.`,
  "curve-by-wald": ({ law }) =>
    `The band of the curve is by Wald, which is quick; the readings of the ${lawName(law)} law have bounds by likelihood ratio, which hold better.`,
  "informative-looks": ({ informative, looks }) =>
    `${out(informative)} of ${out(looks)} closing inspections came because the same item had failed. Lives that end so may look shorter than they are.`,
  "sound-by-scope": ({ by_scope, looks }) =>
    `${out(by_scope)} of ${out(looks)} clean inspections are clean because the checklist covers the item, not because someone wrote it down.`,
  "ranged-ages": ({ ranged, lives }) =>
    `${out(ranged)} of ${out(lives)} lives have an age that is known only as a range.`,
  "missing-hours-matter": ({ reading: what, lowest, highest }) =>
    `Missing hours matter: ${reading(what)} lies between ${hours(lowest)} and ${hours(highest)}, depending on how they are filled in.`,
  "tools-differ": ({ serials, p_value, bounds }) =>
    `The ${out(serials)} serials do not all last alike${p_value === null ? "" : ` (p = ${text(p_value)})`}. ${
      bounds === "by serial"
        ? "The bounds draw whole tools again, so that they hold although tools differ."
        : "The bounds take every life as separate and may be too narrow."
    }`,
  "bounds-fall-short": ({ failures, kind, side, missed }) =>
    `${side === "lower" ? "Bounds like these claim too much more often than they say" : "Upper bounds like these are too low more often than they say"}: in simulated fleets with about ${count(failures, "failure")} ${foundHow[String(kind)] ?? text(kind)}, the true 10 % age lay ${side === "lower" ? "below the lower" : "above the upper"} 90 % bound in ${percent(missed)} of them, where 5 % is meant.`,
  "sizes-pooled": ({ sizes }) =>
    `Sizes are taken together: ${listOf(
      String(sizes ?? "")
        .split(",")
        .map((size) => formatSize(Number(size))),
    )}. Narrow the scope to one size to see them apart.`,
  "left-truncated": ({ late, lives, from_age }) =>
    `${out(late)} of ${out(lives)} entered these records in mid-life and count from the age at which they entered.${from_age === null || from_age === 0 ? "" : ` The curve is of those that reach ${hours(from_age)}.`}`,
  "excluded-lives": ({ excluded, histories, reason }) =>
    `${out(excluded)} of ${out(histories)} histories are left out${reason === null ? "" : `, most of them because: ${text(reason)}`}. They are listed with their reasons.`,
  "poor-fit": ({ age, fitted, steps }) =>
    `The fitted line does not follow the records: at ${hours(age)} it has ${text(fitted)} still good, the step line ${text(steps)}. Trust the step line there.`,
  "bounds-not-as-asked": ({ asked, why }) =>
    `Bounds ${asked === "by serial" ? "by serial" : `by ${text(asked)}`} were asked for and could not be had: ${whyOtherBounds[String(why)] ?? text(why)}. These are by likelihood ratio.`,
  "shape-taken": ({ kind, low, high, sure, groups, failures }) =>
    kind === "fixed"
      ? `The shape is taken to be ${text(low)}, whatever these lives say. The answer is only as good as that number.`
      : kind === "pooled"
        ? `The shape is lent by ${count(groups, "other mode or size", "other modes and sizes")} of these records with ${count(failures, "failure")}: between ${text(low)} and ${text(high)}, ${percent(sure)} sure, before these lives were looked at.`
        : `The shape is taken to lie between ${text(low)} and ${text(high)}, ${percent(sure)} sure, before these lives were looked at.`,
  "shape-not-taken": ({ why }) =>
    `A shape from elsewhere was asked for and is not used: ${whyNoShape[String(why)] ?? text(why)}.`,
  "many-comparisons": ({ tested }) =>
    `${count(tested, "comparison")} ${whole(tested) === 1 ? "was" : "were"} tested together. What stands out does so over all of them: on average at most one claim in twenty is false.`,
  "practice-not-written": ({ practice, missing, lives }) =>
    `${text(practice)}: not written as it should be for ${out(missing)} of ${out(lives)} lives. They are a group of their own, never filled in.`,
  "linked-comparison": ({ item, mode, failure }) =>
    `${mode} of ${text(item)} is compared together with the ${text(failure)} it leads to, since the ${text(failure)} decides when one looks.`,
  "restoration-statement": ({ statement }) => `Stated by the shop: ${text(statement)}`,
  "costs-assumed": ({ planned, ratio, found }) =>
    `${planned === null ? "No cost of a planned redress is on record: it is the unit, and all costs are told in planned redresses." : `A planned redress costs ${text(planned)}.`}${ratio === null ? "" : ` A failure that stops a job is taken as ${text(ratio)} planned redresses; nobody has said so. Set your own.`}${found === 1 ? " What is found in the shop adds nothing unless a cost is given." : ""}`,
  "costs-left-out": ({ count: rows, currency }) =>
    `${count(rows, "recorded cost")} in another currency than ${text(currency)} ${whole(rows) === 1 ? "is" : "are"} not used. Enter all costs in one.`,
  "constant-rate": ({ item, mode, failures }) =>
    `${text(item)}, ${text(mode)}: ${count(failures, "failure")} cannot tell how the risk changes with hours. It is taken as constant, which gives no reason to redress sooner or later.`,
  "interval-beyond-experience": ({ age, longest }) =>
    `The interval of ${hours(age)} is beyond experience: nothing that stops a job was followed longer than ${hours(longest)}.`,
  "heat-not-written": () =>
    "No two runs here have different temperatures written down, so hours count alike, whatever the heat of the next well. Write the highest temperature of each run.",
  "heat-beyond-seen": ({ well, low, high }) =>
    `${degrees(well)} lies beyond the wells of this shop: 90 % of its hours were run between ${degrees(low)} and ${degrees(high)}. How hours count there is the law drawn out, nobody has seen it.`,
  "invented-data": () => "These are invented records of a shop that does not exist.",

  "resamples-without-maximum": ({ resamples, without }) =>
    `${out(without)} of ${out(resamples)} repetitions had no largest likelihood and enter nothing.`,
  "few-groups": ({ groups }) =>
    `Only ${count(groups, "serial")} could be drawn again: bounds by serial come out short with so few.`,
  "bias-correction-extreme": ({ belowEstimate }) =>
    `${percent(belowEstimate)} of the resamples lie below the estimate; bounds corrected for that lean on a handful of them.`,
  "prior-and-lives-disagree": ({ shapeOfLives, low, high }) =>
    `These lives by themselves give a shape of ${text(shapeOfLives)}, which does not agree with ${text(low)} to ${text(high)}. One of the two is wrong; find out which before using this.`,
  "prior-decides": ({ failures }) =>
    `${count(failures, "failure")} ${whole(failures) === 1 ? "tells" : "tell"} less of the shape than what was believed before: that belief decides the curve.`,
  "no-spread-between-groups": ({ upper }) =>
    `The modes and sizes do not show different shapes; a spread up to ${text(upper)} is still believed.`,
  "follow-up-drawn": ({ lives }) =>
    `How long ${count(lives, "failed item would", "failed items would")} have been followed is not known; in the simulations it is drawn from the others.`,
  "looks-assumed": ({ lives }) =>
    `Inspections of ${count(lives, "life", "lives")} are not written down; they are taken as regular.`,
  "case-decides": ({ id, b10Ratio }) =>
    `One failure decides much: without ${text(id)} the age by which one in ten has failed would be ${text(b10Ratio)} times as long. Look at that record first.`,
  "mixture-on-the-edge": () =>
    "One of the two patterns gathers on a single age; read two patterns as a hint, not as numbers.",
  "pattern-without-maximum": () => "Two patterns could not be told from these lives.",
  "margin-without-maximum": ({ which }) =>
    `The ${which === "mode" ? "lives of this mode" : "ages at the other failure"} do not settle a law, so nothing is shown.`,
  "looks-missing": ({ lives }) =>
    `${count(lives, "life", "lives")} without an inspection ${whole(lives) === 1 ? "says" : "say"} nothing here.`,
};

const summaries: { readonly [C in Notice["code"]]?: (rows: number) => string } = {
  "run-duplicate": (rows) => `${countOf(rows, "run")} repeated; the hours are counted once.`,
  "run-hours-missing": (rows) => `${countOf(rows, "run")} without usable hours; only their dates bound them.`,
  "run-overlaps": (rows) =>
    `${countOf(rows, "pair", "pairs")} of runs overlap in their dates; both are counted until one is corrected.`,
  "run-without-build": (rows) => `${countOf(rows, "run")} with no build before; the hours are not used.`,
  "run-hours-exceed-dates": (rows) => `${countOf(rows, "run")} with more hours than the dates hold; used as written.`,
  "hour-seen-beyond-run": (rows) =>
    `${countOf(rows, "failure")} seen after the run's last hour; placed somewhere in the run.`,
  "tool-not-listed": (rows) =>
    `${countOf(rows, "serial")} not in the list of tools; the records are kept and not used.`,
  "item-not-listed": (rows) => `${countOf(rows, "finding")} on items the list does not have; kept and not used.`,
  "mode-not-listed": (rows) => `${countOf(rows, "finding")} of modes the list does not have; kept and not used.`,
  "look-after-cutoff": (rows) => `${countOf(rows, "teardown")} after the cut-off; not used.`,
  "look-without-build": (rows) => `${countOf(rows, "teardown")} with no build before; not used.`,
  "lost-cause-unknown": (rows) =>
    `${countOf(rows, "tool")} lost in hole with the cause not known; each mode counts as good at the last age it was known good.`,
  "tool-failure-no-item": (rows) =>
    `${countOf(rows, "run")} ended with a tool failure and no item named; counted against the tool.`,
  "out-but-silent": (rows) => `${countOf(rows, "tool")} listed as out with nothing written down for long.`,
  "severity-missing": (rows) =>
    `${countOf(rows, "finding")} without a severity; counted as failures, as if at the threshold.`,
  "item-in-two-tools": (rows) =>
    `${countOf(rows, "item")} fitted into one tool while another ran on with the same number; the hours count in the later one.`,
  "cause-not-found": (rows) =>
    `${countOf(rows, "finding")} put down to a cause the teardown does not record; each counts as a failure of its own.`,
};
