import { checkPositive } from "./checkPositive.ts";

/** A rotary-shouldered joint. Lengths in one unit, areas in its square. */
export interface ShoulderedJoint {
  /** Smaller of the pin's and the box's section. */
  readonly area: number;
  /** Advance of the thread a turn. */
  readonly lead: number;
  readonly meanThreadRadius: number;
  readonly meanShoulderRadius: number;
  /** Half the angle between thread flanks, in degrees: 30 for a 60 degree thread. */
  readonly threadHalfAngle: number;
  readonly threadFriction: number;
  readonly shoulderFriction: number;
}

export interface MakeUp {
  readonly torque: number;
  /** Mean axial stress in `area`. */
  readonly stress: number;
  readonly preload: number;
  /** Where the torque goes; the three add up to 1. */
  readonly shares: { readonly lead: number; readonly thread: number; readonly shoulder: number };
}

/** The coefficient of friction that published make-up tables use. */
export const TABLE_FRICTION = 0.08;

/**
 * Make-up torque of a rotary-shouldered joint for a stress:
 *   T = S A [ p / (2 pi) + R_t f_t / cos(theta) + R_s f_s ]
 * Holds in units that belong together: Pa, m2, m, N·m; or psi, in2, in, in-lbf (a twelfth of it in ft-lbf).
 *
 * Cautions  The friction in the joint is not known: 0.06 instead of 0.08 everywhere raises the stress at one torque by 30 %.
 *           Anti-seize and threadlocker change it, so record them. The maker's torque table governs.
 * Errors    "bad-setting" for a value that is not above 0, or a half-angle of 90 degrees or more.
 * Source    Farr (1957), in the appendix of API RP 7G; friction 0.08 as in its tables.
 */
export function makeUpForStress(joint: ShoulderedJoint, stress: number): MakeUp {
  const { lead, thread, shoulder } = arms(joint);
  checkPositive({ stress });
  const arm = lead + thread + shoulder;
  const preload = stress * joint.area;
  return {
    torque: preload * arm,
    stress,
    preload,
    shares: { lead: lead / arm, thread: thread / arm, shoulder: shoulder / arm },
  };
}

/** What a torque implies: the same formula turned round. */
export function makeUpOfTorque(joint: ShoulderedJoint, torque: number): MakeUp {
  const { lead, thread, shoulder } = arms(joint);
  checkPositive({ torque });
  return makeUpForStress(joint, torque / (joint.area * (lead + thread + shoulder)));
}

/** Torque per unit of preload, part by part. */
function arms(joint: ShoulderedJoint): { lead: number; thread: number; shoulder: number } {
  checkPositive({ ...joint, "90 - threadHalfAngle": 90 - joint.threadHalfAngle });
  return {
    lead: joint.lead / (2 * Math.PI),
    thread: (joint.meanThreadRadius * joint.threadFriction) / Math.cos((joint.threadHalfAngle * Math.PI) / 180),
    shoulder: joint.meanShoulderRadius * joint.shoulderFriction,
  };
}
