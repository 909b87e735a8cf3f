/** Torque figures on typed numbers, in both unit systems, each with where it comes from. */
import { torqueOnReference, torqueWithCompound } from "../mechanics/frictionFactor.ts";
import { makeUpOfTorque, type ShoulderedJoint, TABLE_FRICTION } from "../mechanics/shoulderedJoint.ts";
import { convertUnit } from "../records/units.ts";
import { formatNumber } from "./formatNumber.ts";

export interface TorqueReading {
  readonly what: string;
  /** Null where a figure has no unit of its own in that system. */
  readonly metric: { readonly value: number; readonly unit: string } | null;
  readonly field: { readonly value: number; readonly unit: string } | null;
  readonly from: string;
}

export interface TorqueFigures {
  readonly readings: readonly TorqueReading[];
  /** What is typed and cannot be used, in words. */
  readonly problems: readonly string[];
}

type Typed = Readonly<Record<string, string>>;

const names: Readonly<Record<string, string>> = {
  design: "The design torque",
  factor: "The friction factor",
  final: "The final torque",
  area: "The section",
  lead: "The lead",
  thread: "The mean thread radius",
  shoulder: "The mean shoulder radius",
  angle: "The half-angle",
  friction: "The coefficient of friction",
};

/** Usual scatter of friction in a make-up (common practice, no source). */
const SCATTER = 0.25;

/**
 * @param typed   By field: design, factor, final (torque); area, lead, thread, shoulder (sizes); angle in degrees; friction.
 * @param system  Of the typed torques and sizes: "field" ft-lbf and inches, "metric" N·m and millimetres.
 */
export function torqueFigures(typed: Typed, system: "field" | "metric"): TorqueFigures {
  const problems: string[] = [];
  const read = (name: string): number | null => {
    const text = typed[name]?.trim() ?? "";
    if (text === "") return null;
    const value = numberIn(text);
    const isGood = value !== null && value > 0 && (name !== "angle" || value < 90);
    if (!isGood)
      problems.push(`${names[name]} "${text}" is not a number above 0${name === "angle" ? " and below 90" : ""}.`);
    return isGood ? value : null;
  };
  const torque = (name: string) => scaled(read(name), system === "field" ? convertUnit(1, "ft-lbf", "N·m") : 1);
  const metre = system === "field" ? convertUnit(1, "in", "mm") / 1000 : 0.001;
  const design = torque("design");
  const factor = read("factor");
  const final = torque("final");
  const joint = jointOf(read, metre);
  const target = design === null ? null : torqueWithCompound(design, factor ?? 1);
  const made = final ?? target;
  return {
    problems,
    readings: [
      ...(target === null || factor === null
        ? []
        : [asTorque("Target for this compound", target, "T = FF × design torque, API RP 7A1")]),
      ...(design === null || final === null ? [] : [asRatio("Final over design", final / design, "as written")]),
      ...(design === null || final === null || factor === null
        ? []
        : [
            asRatio("Final over design, corrected", torqueOnReference(final, factor) / design, "final / (FF × design)"),
          ]),
      ...(joint === null || made === null ? [] : stresses(joint, made, final === null ? "target" : "final torque")),
    ],
  };
}

function numberIn(text: string): number | null {
  const parsed = Number(text.replace(/(?<=\d),(?=\d{3}(?:\D|$))/g, ""));
  return Number.isFinite(parsed) ? parsed : null;
}

const scaled = (value: number | null, factor: number): number | null => (value === null ? null : value * factor);

/** Null until every size is typed; half-angle and friction have usual values. */
function jointOf(read: (name: string) => number | null, metre: number): ShoulderedJoint | null {
  const [area, lead, thread, shoulder] = ["area", "lead", "thread", "shoulder"].map(read);
  const angle = read("angle") ?? 30;
  const friction = read("friction") ?? TABLE_FRICTION;
  if (area == null || lead == null || thread == null || shoulder == null) return null;
  return {
    area: area * metre ** 2,
    lead: lead * metre,
    meanThreadRadius: thread * metre,
    meanShoulderRadius: shoulder * metre,
    threadHalfAngle: angle,
    threadFriction: friction,
    shoulderFriction: friction,
  };
}

function stresses(joint: ShoulderedJoint, torque: number, of: string): TorqueReading[] {
  const { stress, preload, shares } = makeUpOfTorque(joint, torque);
  const withFriction = (factor: number) =>
    makeUpOfTorque(
      { ...joint, threadFriction: joint.threadFriction * factor, shoulderFriction: joint.shoulderFriction * factor },
      torque,
    ).stress;
  const source = "Farr (1957), API RP 7G";
  const poundForce = convertUnit(1, "ft-lbf", "N·m") / 0.3048;
  return [
    asStress(`Stress that the ${of} implies`, stress, source),
    asStress("The same with a quarter less friction", withFriction(1 - SCATTER), source),
    asStress("The same with a quarter more friction", withFriction(1 + SCATTER), source),
    {
      what: "Preload",
      metric: { value: preload / 1000, unit: "kN" },
      field: { value: preload / poundForce, unit: "lbf" },
      from: source,
    },
    {
      what: `Where the torque goes: lead ${part(shares.lead)}, thread ${part(shares.thread)}, shoulder ${part(shares.shoulder)}`,
      metric: null,
      field: null,
      from: source,
    },
  ];
}

const part = (share: number): string => `${formatNumber(100 * share)} %`;

const asTorque = (what: string, newtonMetres: number, from: string): TorqueReading => ({
  what,
  metric: { value: newtonMetres, unit: "N·m" },
  field: { value: convertUnit(newtonMetres, "N·m", "ft-lbf"), unit: "ft-lbf" },
  from,
});

const asRatio = (what: string, value: number, from: string): TorqueReading => ({
  what,
  metric: { value, unit: "" },
  field: { value, unit: "" },
  from,
});

const asStress = (what: string, pascals: number, from: string): TorqueReading => ({
  what,
  metric: { value: pascals / 1e6, unit: "MPa" },
  field: { value: convertUnit(pascals / 1e6, "MPa", "psi"), unit: "psi" },
  from,
});
