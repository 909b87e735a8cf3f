import { median, medianAbsoluteDeviation } from "simple-statistics";
import { convertUnit } from "../units.ts";
import { groupBy } from "./groupBy.ts";
import type { MadeUpJoint } from "./madeUpJoints.ts";
import { oddsOfOther } from "./oddsOfOther.ts";

/** ln of N·m in a ft-lbf, 1.3558: how far a wrong unit moves a torque. */
const STEP = Math.log(convertUnit(1, "ft-lbf", "N·m"));
/** One torque in a thousand in the wrong unit, worth ten joints of evidence beside the neighbours' own. */
const PRIOR = 0.001;
const PRIOR_WEIGHT = 10;
/** Joints by the same technician on the same torque tool within so many days speak for each other: gauges stay set. */
const NEIGHBOUR_DAYS = 45;
const ENOUGH = 15;
const SPREAD = { least: 0.02, usual: 0.06, most: 0.12 };
const BIAS_MOST = 0.1;
/** A target is one of few set numbers: as near as this to the ratio, in ln. */
const TARGET_NEAR = 0.05;

/** A final torque likelier in the other unit, with the torque it was held against, N·m. */
export interface SuspectTorque {
  readonly joint: MadeUpJoint;
  readonly reference: number;
  readonly high: boolean;
}

/**
 * Final torques that are likelier to stand in the other unit, given how each technician usually lands and what the same
 * hands wrote on the same torque tool around that time.
 */
export function suspectTorques(joints: readonly MadeUpJoint[]): readonly SuspectTorque[] {
  const measured = joints.flatMap((joint) => {
    const reference = referenceOf(joint);
    const away = lnRatio(joint.joint.final_torque_Nm, reference);
    return away === null || reference === null ? [] : [{ joint, reference, away }];
  });
  const shopLaw = lawOf(measured.map(({ away }) => away));
  const byTechnician = groupBy(measured, ({ joint }) => joint.technician ?? "");
  const laws = new Map(
    [...byTechnician].map(([name, rows]) => [
      name,
      rows.length < ENOUGH ? shopLaw : lawOf(rows.map((row) => row.away)),
    ]),
  );
  const odds = ({ joint, away }: (typeof measured)[number], prior: number) => {
    const { bias, spread } = laws.get(joint.technician ?? "") ?? shopLaw;
    const toOther = away > bias ? -STEP : STEP;
    return oddsOfOther(away - bias, away - bias + toOther, spread, prior);
  };
  const first = new Set(measured.filter((row) => odds(row, PRIOR) > 0));
  const count = (row: (typeof measured)[number] | undefined) => (row !== undefined && first.has(row) ? 1 : 0);
  const dayOf = (row: (typeof measured)[number] | undefined) => row?.joint.day ?? Infinity;
  const hands = groupBy(measured, ({ joint }) => JSON.stringify([joint.technician, joint.joint.torque_tool ?? null]));
  return [...hands.values()].flatMap((rows) => {
    // Rows are in order of time, so the neighbours of each are a stretch that only moves on.
    let from = 0;
    let to = 0;
    let suspects = 0;
    return rows.flatMap((row) => {
      for (; to < rows.length && dayOf(rows[to]) <= row.joint.day + NEIGHBOUR_DAYS; to++) suspects += count(rows[to]);
      for (; dayOf(rows[from]) < row.joint.day - NEIGHBOUR_DAYS; from++) suspects -= count(rows[from]);
      const prior = (PRIOR * PRIOR_WEIGHT + suspects - count(row)) / (PRIOR_WEIGHT + to - from - 1);
      return odds(row, prior) > 0 ? [{ joint: row.joint, reference: row.reference, high: row.away > 0 }] : [];
    });
  });
}

/** The target, unless it is itself in doubt or missing; then the design torque, then what is usual. */
function referenceOf({ joint, design, usualTarget, usualFinal }: MadeUpJoint): number | null {
  const target = joint.target_torque_Nm ?? null;
  return (targetOff(target, usualTarget) === null ? target : usualTarget) ?? design ?? usualFinal;
}

/** Whether a target is off its usual value by just the ratio of the units, and to which side; null where it is not. */
export function targetOff(target: number | null, usual: number | null): "high" | "low" | null {
  const away = lnRatio(target, usual);
  if (away === null || Math.abs(Math.abs(away) - STEP) >= TARGET_NEAR) return null;
  return away > 0 ? "high" : "low";
}

function lnRatio(value: number | null | undefined, to: number | null): number | null {
  return value == null || to === null || value <= 0 || to <= 0 ? null : Math.log(value / to);
}

function lawOf(away: readonly number[]): { readonly bias: number; readonly spread: number } {
  if (away.length < ENOUGH) return { bias: 0, spread: SPREAD.usual };
  const values = [...away];
  const spread = 1.4826 * medianAbsoluteDeviation(values);
  return {
    bias: Math.min(BIAS_MOST, Math.max(-BIAS_MOST, median(values))),
    spread: Math.min(SPREAD.most, Math.max(SPREAD.least, spread)),
  };
}
