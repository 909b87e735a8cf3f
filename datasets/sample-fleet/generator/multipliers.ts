/** What the build does to a life: the multiplier of its cumulative hazard, by the effects that are on. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import type { FleetEffects, FleetOptions } from "./options.ts";
import type { ModeTruth } from "./truth.ts";
import { effectTruths } from "./truth.ts";

/** A joint as it was made up. */
export interface MakeUp {
  readonly newThread: boolean;
  /** Final torque over design torque. */
  readonly ratio: number;
  readonly cycles: number;
  readonly frictionFactor: number;
  readonly locker: string | null;
}

/** A seal or stack as it was fitted. */
export interface Fitted {
  readonly badLot: boolean;
  readonly hardness: number | null;
  readonly gapMm: number | null;
}

export const compounds: readonly (Row<"compounds"> & { readonly friction_factor: number })[] = [
  { compound: "copper paste", friction_factor: 1.0, source: "shop data sheet (invented)" },
  { compound: "zinc paste", friction_factor: 1.12, source: "shop data sheet (invented)" },
  { compound: "metal-free", friction_factor: 0.92, source: "shop data sheet (invented)" },
];

const isTorqueMode = (name: string): name is keyof typeof effectTruths.torqueSlope => name in effectTruths.torqueSlope;

export function makeUpMultiplier(
  truth: ModeTruth,
  madeUp: MakeUp,
  { effects, torqueSlope }: Pick<FleetOptions, "effects" | "torqueSlope">,
): number {
  let multiplier = 1;
  if (isTorqueMode(truth.mode)) {
    const usual = effectTruths.torqueSlope[truth.mode];
    const slope = truth.mode === "back-off" ? (torqueSlope ?? usual) : usual;
    const ratio = (effects.torque ? madeUp.ratio : 1) / (effects.compound ? madeUp.frictionFactor : 1);
    multiplier *= Math.exp(-slope * (ratio - 1));
  }
  if (truth.mode === "back-off" && effects.locker && madeUp.locker !== null) multiplier *= effectTruths.locker;
  if (truth.mode === "galling" && effects.cycles && madeUp.newThread) {
    multiplier *= effectTruths.cycles[Math.min(madeUp.cycles, effectTruths.cycles.length - 1)] ?? 1;
  }
  return multiplier;
}

export function fittedMultiplier(truth: ModeTruth, fitted: Fitted, effects: FleetEffects): number {
  let multiplier = 1;
  if (effects.sealLot && fitted.badLot) multiplier *= effectTruths.badLot.multiplier;
  if (truth.mode === "extrusion") {
    if (effects.hardness && fitted.hardness !== null) {
      multiplier *= Math.exp(-effectTruths.hardnessSlope * (fitted.hardness - 82));
    }
    if (effects.gap && fitted.gapMm !== null) {
      multiplier *= Math.exp((effectTruths.gapSlope * (fitted.gapMm - 0.1778)) / 0.0254);
    }
  }
  return multiplier;
}
