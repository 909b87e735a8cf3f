import { checkPositive } from "./checkPositive.ts";

/**
 * Torque for the preload that the reference compound gives at its own torque:  T = FF T_ref.
 *
 * Cautions  A slight over-correction: the lead of the thread has no friction. With f times 1.10 the exact torque is 1.092
 *           times, not 1.10 times.
 * Errors    "bad-setting" for a value that is not above 0.
 * Source    API RP 7A1 for the factor as performance relative to a reference compound.
 */
export function torqueWithCompound(referenceTorque: number, frictionFactor: number): number {
  checkPositive({ referenceTorque, frictionFactor });
  return frictionFactor * referenceTorque;
}

/** What a torque with a compound is worth with the reference compound:  T / FF. */
export function torqueOnReference(torque: number, frictionFactor: number): number {
  checkPositive({ torque, frictionFactor });
  return torque / frictionFactor;
}

/** Relative scatter of preload from independent scatters of torque tool and friction: the root of the sum of squares. */
export const combinedScatter = (torqueTool: number, friction: number): number => Math.hypot(torqueTool, friction);
