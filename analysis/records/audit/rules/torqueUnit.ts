import { median, medianAbsoluteDeviation } from "simple-statistics";
import { convertUnit } from "../../units.ts";
import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";
import { type MadeUpJoint, madeUpJoints } from "../madeUpJoints.ts";
import { oddsOfOther } from "../oddsOfOther.ts";
import type { AuditRow } from "../types.ts";

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

/**
 * Torques that would fit if their number were N·m and not ft-lbf, or the reverse (ratio near 1.356 or 0.738). The final
 * torque is held against its target (else the design torque, else what is usual for the joint), given how this technician
 * usually lands; the target against the shop's usual target of that joint and compound.
 *
 * Source       Ratio from NIST SP 811 (2008), B.8. Odds of two normal laws of ln(final/target), spread from the median
 *              absolute deviation; prior and neighbours common practice, no source.
 * Cannot tell  A joint truly over-torqued by a third from a wrong unit: ask, never convert silently. A shop that writes
 *              every torque in the wrong unit.
 */
export const torqueUnit: Rule = (context) => {
  const joints = madeUpJoints(context);
  const targets = joints.flatMap((joint) => {
    const away = lnRatio(joint.joint.target_torque_Nm, joint.usualTarget);
    return away !== null && Math.abs(Math.abs(away) - STEP) < TARGET_NEAR
      ? [suspect(joint, "target_torque_Nm", joint.usualTarget ?? 0, away > 0)]
      : [];
  });
  return [...targets, ...suspectFinals(joints)];
};

function suspectFinals(joints: readonly MadeUpJoint[]): readonly AuditRow[] {
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
  const hands = groupBy(measured, ({ joint }) => JSON.stringify([joint.technician, joint.joint.torque_tool ?? null]));
  return [...hands.values()].flatMap((rows) =>
    rows.flatMap((row) => {
      const near = rows.filter((other) => other !== row && Math.abs(other.joint.day - row.joint.day) <= NEIGHBOUR_DAYS);
      const prior =
        (PRIOR * PRIOR_WEIGHT + near.filter((other) => first.has(other)).length) / (PRIOR_WEIGHT + near.length);
      return odds(row, prior) > 0 ? [suspect(row.joint, "final_torque_Nm", row.reference, row.away > 0)] : [];
    }),
  );
}

/** The target, unless it is itself in doubt or missing; then the design torque, then what is usual. */
function referenceOf({ joint, design, usualTarget, usualFinal }: MadeUpJoint): number | null {
  const target = joint.target_torque_Nm ?? null;
  const away = lnRatio(target, usualTarget);
  const doubtful = away !== null && Math.abs(Math.abs(away) - STEP) < TARGET_NEAR;
  return (doubtful ? usualTarget : target) ?? design ?? usualFinal;
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

function suspect(
  { joint, serial, technician }: MadeUpJoint,
  column: "final_torque_Nm" | "target_torque_Nm",
  usual: number,
  high: boolean,
): AuditRow {
  const written = joint[column] ?? 0;
  const meant = high ? convertUnit(written, "N·m", "ft-lbf") : convertUnit(written, "ft-lbf", "N·m");
  return doubt("torque unit suspect", "joints", joint, column, {
    facts: {
      joint: joint.joint,
      redress: joint.redress,
      serial,
      technician,
      torque_tool: joint.torque_tool ?? null,
      written,
      usual,
      meant: high ? "N·m" : "ft-lbf",
    },
    proposes: Number(meant.toPrecision(10)),
  });
}

function groupBy<R>(rows: readonly R[], by: (row: R) => string): ReadonlyMap<string, readonly R[]> {
  const groups = new Map<string, R[]>();
  for (const row of rows) {
    const group = groups.get(by(row));
    if (group) group.push(row);
    else groups.set(by(row), [row]);
  }
  return groups;
}
