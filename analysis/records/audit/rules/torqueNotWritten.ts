import type { Rule } from "../auditContext.ts";
import { doubt } from "../doubt.ts";

/**
 * A joint made up without a number for its final torque, where the shop usually writes one: left blank, or words such as
 * "good tight". The torque is missing, never taken from the target.
 *
 * Where fewer than half of all joints have a final torque it is the shop's way and no row is doubted.
 *
 * Source       trade practice, common, no source.
 * Cannot tell  A blank cell from a word; the original cell text stands beside the row.
 */
export const torqueNotWritten: Rule = ({ records, redressOf }) => {
  const joints = records.joints ?? [];
  const missing = joints.filter((joint) => joint.final_torque_Nm == null);
  if (2 * missing.length >= joints.length) return [];
  return missing.map((joint) =>
    doubt("torque not written", "joints", joint, "final_torque_Nm", {
      facts: {
        joint: joint.joint,
        redress: joint.redress,
        serial: redressOf.get(joint.redress)?.serial ?? null,
        target: joint.target_torque_Nm ?? null,
      },
    }),
  );
};
