import type { AuditRow, AuditRule } from "../records/audit/types.ts";
import { convertUnit } from "../records/units.ts";
import { formatHours } from "./formatAge.ts";
import { formatDate } from "./formatDate.ts";
import { formatExact, formatNumber } from "./formatNumber.ts";
import { formatTemperature } from "./formatTemperature.ts";
import { countOf, sentenceCase } from "./inWords.ts";

/**
 * One doubt in one or two sentences: what is odd here, and what is proposed or asked. Why it matters is said once, by the
 * rule. A fact that is missing reads "not known".
 * Example  "Run R-12 of AD475-001 is the same as run R-11: out 5 Mar 2024, 62.5 h. Leave it out?"
 */
export function sayAuditRow(row: AuditRow): string {
  return sentenceCase(rows[row.rule](row.facts, row));
}

type Facts = AuditRow["facts"];

const fact = (facts: Facts, name: string): string | number | null => facts[name] ?? null;
const text = (facts: Facts, name: string): string => {
  const value = fact(facts, name);
  return value === null ? "not known" : typeof value === "number" ? formatExact(value) : value;
};
const number = (facts: Facts, name: string): number | null => {
  const value = fact(facts, name);
  return typeof value === "number" ? value : null;
};
const date = (facts: Facts, name: string): string => {
  const value = fact(facts, name);
  return formatDate(value === null ? null : String(value));
};
const hours = (facts: Facts, name: string): string => formatHours(number(facts, name));
const days = (facts: Facts, name = "days"): string => {
  const count = number(facts, name);
  return count === null ? "a time not known" : countOf(count, "day");
};
const run = (facts: Facts): string => `Run ${text(facts, "run")} of ${text(facts, "serial")}`;
const teardown = (facts: Facts): string =>
  `Teardown ${text(facts, "teardown")} of ${text(facts, "serial")} on ${date(facts, "on")}`;

const torque = (newtonMetres: number | null): string =>
  newtonMetres === null
    ? "not known"
    : `${formatNumber(newtonMetres, 4)} N·m (${formatNumber(convertUnit(newtonMetres, "N·m", "ft-lbf"), 4)} ft-lbf)`;
const proposed = ({ proposes }: AuditRow): number | null => (typeof proposes === "number" ? proposes : null);
const share = (part: number | null, whole: number | null): string =>
  part === null || whole === null || whole === 0 ? "not known" : `${formatNumber((100 * part) / whole, 2)} %`;
const writer = (facts: Facts): string =>
  fact(facts, "by") === "shop"
    ? "the whole shop"
    : text(facts, "by") === "customer"
      ? `runs for ${text(facts, "name")}`
      : text(facts, "name");

const pulled = (facts: Facts): string =>
  fact(facts, "pulled_because") === "not known"
    ? "with no reason for pulling"
    : `pulled because: ${text(facts, "pulled_because")}`;

const unitNames: Readonly<Record<string, string>> = { degC: "°C", degF: "°F" };
const oddities: Readonly<Record<string, string>> = {
  "out that day": "the tool was out that day",
  "not run since its redress": "the tool had not run since its redress",
  "ran on without a redress": "the tool ran on afterwards without a redress",
  "torn down twice": "the tool was torn down twice with no run between",
};

const rows: Readonly<Record<AuditRule, (facts: Facts, row: AuditRow) => string>> = {
  "runs overlap": (facts) =>
    `${run(facts)} went out on ${date(facts, "out_on")}, while run ${text(facts, "other")} came in on ${date(facts, "other_in_on")}. Correct the dates, or leave one of them out.`,
  "hours exceed dates": (facts) =>
    (number(facts, "days") ?? 1) < 1
      ? `${run(facts)} came in before it went out. Correct one of the dates.`
      : `${run(facts)} has ${hours(facts, "hours")} in ${days(facts)}, which hold ${hours(facts, "most")} at most. Correct the hours or a date.`,
  "zero hours of a long run": (facts) =>
    `${run(facts)} was out over ${days(facts)} with 0 h. Write the hours, or accept if it truly did not run.`,
  "hours missing": (facts) => `${run(facts)} has no hours, out over ${days(facts)}. Write them if the report has them.`,
  "age falls without a restoration": (facts) =>
    fact(facts, "what") === "hours"
      ? `${text(facts, "item")} was refitted in ${text(facts, "redress")} with ${hours(facts, "written")}, but its runs add up to ${hours(facts, "expected")}. Correct the hours, or say that it was renewed.`
      : `${text(facts, "item")} of ${text(facts, "serial")} measures ${text(facts, "written")} ${text(facts, "unit")} ${text(facts, "kind")}, less than the ${text(facts, "expected")} at ${text(facts, "earlier_teardown")}. Was it renewed in between?`,
  "serial in two places": (facts) =>
    fact(facts, "what") === "item"
      ? `${text(facts, "item")} ${text(facts, "item_serial")} was fitted to ${text(facts, "serial")} in ${text(facts, "redress")} while ${text(facts, "other")} still had it. Correct the serial in one of them.`
      : `${run(facts)} in well ${text(facts, "well")} went out on ${date(facts, "out_on")}, while run ${text(facts, "other")} in well ${text(facts, "other_well")} was out until ${date(facts, "other_in_on")}. One of them was another tool.`,
  "teardown without run": (facts) =>
    `${teardown(facts)} follows no run since its redress on ${date(facts, "built_on")}. Bring the missing run reports, or accept if it was opened without running.`,
  "run without build": (facts) =>
    `${run(facts)} went out on ${date(facts, "out_on")} ${
      fact(facts, "teardown") === null
        ? "with no build written before it"
        : `with no redress written since teardown ${text(facts, "teardown")} on ${date(facts, "opened_on")}`
    }${(number(facts, "runs") ?? 1) > 1 ? `, and ${countOf((number(facts, "runs") ?? 1) - 1, "more run")} after it` : ""}. Bring the build sheet.`,
  "torque unit suspect": (facts, row) =>
    `${text(facts, "joint")} of ${text(facts, "serial")} in ${text(facts, "redress")}: ${
      row.column === "target_torque_Nm" ? "target" : "final torque"
    } ${torque(number(facts, "written"))} against ${torque(number(facts, "usual"))}. As ${text(facts, "meant")} it would be ${torque(proposed(row))}. Which was meant?`,
  "torque not written": (facts) =>
    `${text(facts, "joint")} of ${text(facts, "serial")} in ${text(facts, "redress")} has no number for its final torque. Write it if the sheet has it; the target is never taken instead.`,
  "temperature unit suspect": (facts, row) =>
    `${run(facts)}: ${formatTemperature(number(facts, "written"))}${
      fact(facts, "depth") === null ? "" : ` at ${formatNumber(number(facts, "depth") ?? 0)} m`
    }, where this shop usually sees ${formatTemperature(number(facts, "usual"))}. Read as ${unitNames[text(facts, "meant")] ?? text(facts, "meant")} it would be ${formatTemperature(proposed(row))}. Which was meant?`,
  "hours heaped": (facts) =>
    `${sentenceCase(writer(facts))}: ${text(facts, "heaped")} of ${countOf(number(facts, "runs") ?? 0, "run")} end on whole ${
      fact(facts, "step") === 5 ? "fives" : "tens"
    } of hours (${share(number(facts, "heaped"), number(facts, "runs"))}, by chance about ${fact(facts, "step") === 5 ? "10 to 20" : "5 to 10"} %). Ask for hours as logged.`,
  "duplicate run": (facts) =>
    `${run(facts)} is the same as run ${text(facts, "same_as")}: out ${date(facts, "out_on")}, ${hours(facts, "hours")}. Leave it out?`,
  "split run": (facts) =>
    `${run(facts)} follows run ${text(facts, "first_part")} in well ${text(facts, "well")} at once; together ${hours(facts, "hours")}. If it is one run, leave this row out and write its hours and date in to the first.`,
  "planned redress of a failed tool": (facts, row) => {
    const said =
      row.row.table === "redresses" ? `Redress ${text(facts, "redress")} of ${text(facts, "serial")}` : teardown(facts);
    const found = fact(facts, "item") === null ? "" : ` (${text(facts, "item")}, ${text(facts, "mode")})`;
    return fact(facts, "run") === null
      ? `${said} is written as planned, but a failure was found${found} that no run reported. Correct the reason, or the finding.`
      : `${said} is written as planned, but run ${text(facts, "run")} before it was pulled for a tool failure${found}. Correct the reason of one of them.`;
  },
  "failed item refitted": (facts) =>
    `${text(facts, "item")} of ${text(facts, "serial")} was found failed at ${text(facts, "teardown")} (${text(facts, "mode")}), and ${text(facts, "redress")} ${
      fact(facts, "restored_by") === "made up" ? "does not make it up again" : "does not renew it"
    }. Correct the build sheet, or the severity.`,
  "other too often": (facts) =>
    `${sentenceCase(writer(facts))}: ${text(facts, "others")} of ${countOf(number(facts, "runs") ?? 0, "run")} are pulled for "other" (${share(number(facts, "others"), number(facts, "runs"))}). Go through them and name the reason.`,
  "sound looks rarely written": (facts) =>
    `${text(facts, "technician")} in ${text(facts, "year")}: ${text(facts, "written")} of ${text(facts, "expected")} sound items are written down (${share(number(facts, "written"), number(facts, "expected"))}). Ask for "sound" to be written for each item looked at.`,
  "failure reported late": (facts) =>
    fact(facts, "run") !== null
      ? `${run(facts)} came in on ${date(facts, "in_on")} and was reported ${days(facts)} later, ${pulled(facts)}. Check the date, or accept.`
      : `${text(facts, "item")} of ${text(facts, "serial")} had failed (${text(facts, "mode")}) when ${text(facts, "teardown")} looked on ${date(facts, "on")}, and no run reported it. Write it to the run where it showed, or accept.`,
  "out but silent": (facts) =>
    fact(facts, "run") === null
      ? `${text(facts, "serial")} is written as out, with no run open and nothing heard for ${days(facts)}. Correct its status, or bring its run report.`
      : fact(facts, "seen_again_on") === null
        ? `${run(facts)} has been out since ${date(facts, "out_on")}, ${days(facts)}, without a report. Ask for it, or write the tool as lost.`
        : `${run(facts)} has no date in, but the tool was seen again on ${date(facts, "seen_again_on")}. Write the date it came in.`,
  "returned, not torn down": (facts) =>
    `${text(facts, "serial")} came in from run ${text(facts, "run")} on ${date(facts, "in_on")}, and nothing is written for ${days(facts)}. Bring the teardown, or accept if the tool is resting.`,
  "teardown of another serial suspected": (facts) =>
    `${teardown(facts)}: ${oddities[text(facts, "oddity")] ?? text(facts, "oddity")}. ${
      fact(facts, "other_serial") !== null
        ? `${text(facts, "other_serial")}, of the same type and size, came in then and has no teardown. Was it that one?`
        : (number(facts, "candidates") ?? 0) > 1
          ? `${sentenceCase(countOf(number(facts, "candidates") ?? 0, "other tool"))} of the same type and size came in then without a teardown. Which was it?`
          : "Check serial and date."
    }`,
  "reason not written": (facts, { row }) =>
    row.table === "runs"
      ? `${run(facts)}, in on ${date(facts, "on")}: why it was pulled is not written. Write the reason; it is never taken as planned.`
      : row.table === "teardowns"
        ? `${teardown(facts)}: why is not written. Write the reason; it is never taken as planned.`
        : `Redress ${text(facts, "redress")} of ${text(facts, "serial")} on ${date(facts, "on")}: the reason is not written. Write it; it is never taken as planned.`,
};
