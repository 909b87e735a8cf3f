import { convertUnit } from "../../units.ts";
import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";
import { type MadeUpJoint, madeUpJoints } from "../madeUpJoints.ts";
import { suspectTorques, targetOff } from "../suspectTorques.ts";
import type { AuditRow } from "../types.ts";

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
    const off = targetOff(joint.joint.target_torque_Nm ?? null, joint.usualTarget);
    return off === null ? [] : [suspect(joint, "target_torque_Nm", joint.usualTarget ?? 0, off === "high")];
  });
  const finals = suspectTorques(joints).map(({ joint, reference, high }) =>
    suspect(joint, "final_torque_Nm", reference, high),
  );
  return [...targets, ...finals];
};

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
