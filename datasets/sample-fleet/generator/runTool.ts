/** One run of a tool: hours pass, an evident failure ends it, and the field writes its report. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { dateOf } from "./days.ts";
import { fahrenheit, feet, psi } from "./shopUnits.ts";
import type { ToolState } from "./toolState.ts";
import { advance, hoursToFailure, type ModeInUse, type RunConditions, thermalAcceleration } from "./trueLife.ts";
import { confoundedTruths, effectTruths, practiceTruths } from "./truth.ts";

export interface RunOutcome {
  readonly inDay: number;
  /** Day on which the shop knows. */
  readonly reportedDay: number;
  readonly lost: boolean;
  readonly out: boolean;
}

export const customers = [
  "Customer Aster",
  "Customer Birch",
  "Customer Cedar",
  "Customer Dogwood",
  "Customer Elm",
] as const;
const muds = ["water base", "oil base", "synthetic base"] as const;

export function runTool(tool: ToolState, day: number): RunOutcome {
  const { use, habit } = tool.draws;
  const { options, book } = tool;
  const { runHours, hoursPerDay, temperatureF } = practiceTruths;
  const planned = clamp(
    Math.exp(Math.log(runHours.median) + use.normal(0, runHours.logSd)),
    runHours.from,
    runHours.to,
  );
  const degrees = Math.round(clamp(use.normal(temperatureF.mean, temperatureF.sd), temperatureF.from, temperatureF.to));
  const celsius = fahrenheit(degrees);
  const rougher = tool.roughWells ? confoundedTruths.rougherBy : 0;
  const vibration = Math.floor(clamp(use.normal(1.6 + rougher, 0.8), 0, 3.99));
  const conditions: RunConditions = {
    thermal: options.effects.temperature ? thermalAcceleration(celsius) : 1,
    vibrating: options.effects.vibration ? (effectTruths.vibration[vibration] ?? 1) : 1,
  };
  const perDay = use.between(hoursPerDay.from, hoursPerDay.to);
  const customer = use.pick(customers);
  const rig = use.integer(1, 9);
  const well = `W-${use.integer(100, 899)}`;
  const depthFeet = 6000 + Math.round((degrees - 100) * 55 + use.normal(0, 600));
  const pressurePsi = Math.round(use.between(600, 3600) / 10) * 10;
  const mud = use.pick(muds);
  const otherReason = use.uniform();
  const lostDraw = use.chance(0.0007);
  const falseAlarm = use.chance(0.004);
  // Drawn whether needed or not: a switch then leaves the later numbers of the stream where they were.
  const keepsSilent = habit.chance(0.12);
  const namesNoItem = habit.chance(0.06);
  const leavesHourOut = habit.chance(0.25);

  let hours = half(planned);
  const lost = lostDraw && options.dirt.lostInHole;
  if (lost) hours = half(Math.max(2, hours * use.uniform()));

  const evident = firstEvident(tool, conditions, hours);
  const silent = evident !== null && options.dirt.leakingCodedPlanned && keepsSilent;
  const seen = evident !== null && !silent && !lost;
  if (evident !== null && seen) hours = Math.ceil(2 * (evident.hour + Math.min(4, use.exponential()))) / 2;

  const inDay = day + Math.max(1, Math.ceil(hours / perDay));
  const late = habit.chance(0.05);
  const lateDays = habit.integer(15, 50);
  const reportedDay = Math.max(inDay + habit.integer(0, 3), late && options.dirt.lateReports ? inDay + lateDays : 0);
  const run = book.nextRun();
  const { serial } = tool;
  const out_on = dateOf(day);
  const crew = `crew ${(rig % 4) + 1}`;
  if (inDay > tool.toDay || reportedDay > tool.toDay) {
    const pulled_because = "not known";
    book.runs.push({
      run,
      serial,
      out_on,
      customer,
      well,
      rig: `Rig ${rig}`,
      crew,
      hours_kind: "circulating",
      pulled_because,
    });
    return { inDay, reportedDay, lost: false, out: true };
  }

  for (const inUse of tool.items.values()) {
    for (const mode of inUse.modes) advance(mode, hours, conditions);
    inUse.age += hours;
  }
  tool.hoursSinceRedress += hours;

  const masked = options.dirt.maskedFailures && (seen ? namesNoItem : falseAlarm);
  const noted = !(options.dirt.hourNotNoted && leavesHourOut);
  const names = seen && !masked && evident !== null;
  let pulled: Row<"runs">["pulled_because"] = "planned";
  if (lost) pulled = "lost in hole";
  else if (seen || masked) pulled = "tool failure";
  else if (otherReason > 0.94) pulled = "other";
  else if (otherReason > 0.82) pulled = "hole problem";
  else if (otherReason > 0.66) pulled = "other tool";
  // Written out in full: a spread of a dozen fields costs ten times as much, and studies simulate hundreds of fleets.
  book.runs.push({
    run,
    serial,
    out_on,
    customer,
    well,
    rig: `Rig ${rig}`,
    crew,
    in_on: dateOf(inDay),
    hours,
    hours_kind: "circulating",
    depth_m: feet(depthFeet),
    max_temperature_C: celsius,
    mud,
    differential_pressure_MPa: psi(pressurePsi),
    vibration_class: vibration,
    pulled_because: pulled,
    item_seen: names ? evident.item : null,
    mode_seen: names ? evident.mode.truth.mode : null,
    hour_seen: names && noted ? Math.max(0.1, Math.round(evident.hour * 10) / 10) : null,
    reported_on: dateOf(reportedDay),
  });
  if (names && !noted) book.happen("hour not noted", "runs", run);
  if (masked) book.happen("tool failure, no item named", "runs", run);
  if (lost) book.happen("lost in hole", "runs", run);
  if (late && options.dirt.lateReports) book.happen("late report", "runs", run);

  tool.reported = names ? { item: evident.item, mode: evident.mode.truth.mode } : null;
  if (seen || masked) tool.broughtInBy = "tool failure";
  if (silent && !lost) tool.silentLeak = true;
  return { inDay, reportedDay, lost, out: false };
}

function firstEvident(
  tool: ToolState,
  conditions: RunConditions,
  hours: number,
): { readonly item: string; readonly mode: ModeInUse; readonly hour: number } | null {
  let first: { readonly item: string; readonly mode: ModeInUse; readonly hour: number } | null = null;
  for (const inUse of tool.items.values()) {
    for (const mode of inUse.modes) {
      if (mode.truth.announces !== "evident") continue;
      const hour = hoursToFailure(mode, conditions);
      if (hour <= hours && (first === null || hour < first.hour)) first = { item: inUse.item.item, mode, hour };
    }
  }
  return first;
}

const clamp = (value: number, from: number, to: number): number => Math.min(to, Math.max(from, value));
const half = (hours: number): number => Math.round(2 * hours) / 2;
