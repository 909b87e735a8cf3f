import { checkPositive } from "./checkPositive.ts";

export interface ShortFormJoint {
  /** Nominal thread diameter. */
  readonly diameter: number;
  /** K, about 0.20 dry and 0.15 lubricated (common practice, no source); measure yours. */
  readonly nutFactor: number;
}

/**
 * Torque for a preload, short form:  T = K D F.
 * Holds in any units that belong together: N·m, m, N; or in-lbf, in, lbf.
 *
 * Cautions  Torque control scatters by 25 to 35 % in preload (common practice): friction decides, not the torque tool.
 * Errors    "bad-setting" for a value that is not above 0.
 * Source    Short form as on fastener-engineering pages, which print K 0.20 and 0.15 and a scatter of 30 %.
 */
export function torqueForPreload(joint: ShortFormJoint, preload: number): number {
  checkPositive({ ...joint, preload });
  return joint.nutFactor * joint.diameter * preload;
}

/** Preload from a torque, short form:  F = T / (K D). */
export function preloadOfTorque(joint: ShortFormJoint, torque: number): number {
  checkPositive({ ...joint, torque });
  return torque / (joint.nutFactor * joint.diameter);
}
