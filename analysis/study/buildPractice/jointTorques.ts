import { median, quantile } from "simple-statistics";
import { makeUpOfTorque, type ShoulderedJoint, TABLE_FRICTION } from "../../mechanics/shoulderedJoint.ts";
import { type CellNotes, cellName } from "../../practice/explain/buildFacts.ts";
import { keyOf, type Row } from "../../records/descriptor.ts";
import { betweenDates, type ShopData } from "../shopData.ts";
import type { Scope } from "../types.ts";
import type { JointStress, JointTorques } from "./types.ts";

/** How the torque of each joint in scope was written down, and where it came to lie against the design torque. */
export function jointTorques(data: ShopData, scope: Scope, { texts, doubted }: CellNotes): JointTorques[] {
  const tools = new Map((data.records.tools ?? []).map((tool) => [tool.serial, tool]));
  const redresses = new Map((data.records.redresses ?? []).map((redress) => [redress.redress, redress]));
  const friction = new Map((data.records.compounds ?? []).map((row) => [row.compound, row.friction_factor ?? null]));
  const rows = (data.records.joints ?? []).flatMap((joint) => {
    const redress = redresses.get(joint.redress);
    const tool = redress && tools.get(redress.serial);
    if (
      !redress ||
      !tool ||
      redress.done_on > data.derived.cutoff ||
      !betweenDates(scope.from, scope.to, redress.done_on)
    )
      return [];
    const isInScope =
      (scope.toolType === null || tool.tool_type === scope.toolType) &&
      (scope.sizeIn === null || tool.size_in === scope.sizeIn) &&
      (scope.serial === null || tool.serial === scope.serial) &&
      (scope.item === null || joint.joint === scope.item);
    return isInScope ? [{ joint, toolType: tool.tool_type }] : [];
  });
  return data.items
    .filter(({ kind }) => kind === "joint")
    .flatMap((described): JointTorques[] => {
      const { tool_type, item: name, design_torque_Nm } = described;
      const own = rows
        .filter(({ joint, toolType }) => joint.joint === name && toolType === tool_type)
        .map(({ joint }) => joint);
      if (own.length === 0) return [];
      const nameOf = (joint: (typeof own)[number]) => cellName("joints", keyOf("joints", joint), "final_torque_Nm");
      const inDoubt = own.filter((joint) => doubted.has(nameOf(joint)));
      const clear = own.filter((joint) => !doubted.has(nameOf(joint)));
      const written = clear.filter((joint) => joint.final_torque_Nm != null);
      const asText = clear.filter((joint) => joint.final_torque_Nm == null && texts.has(nameOf(joint)));
      const design = design_torque_Nm ?? null;
      const ratios =
        design === null || design <= 0 ? [] : written.map((joint) => (joint.final_torque_Nm ?? 0) / design);
      const corrected = written.flatMap((joint, index) => {
        const factor = joint.compound == null ? null : friction.get(joint.compound);
        const ratio = ratios[index];
        return factor && ratio !== undefined ? [ratio / factor] : [];
      });
      return [
        {
          toolType: tool_type,
          item: name,
          designTorqueNm: design,
          madeUp: own.length,
          withNumber: written.length,
          asText: asText.length,
          inDoubt: inDoubt.length,
          notWritten: clear.length - written.length - asText.length,
          below90: ratios.filter((ratio) => ratio < 0.9).length,
          above110: ratios.filter((ratio) => ratio > 1.1).length,
          medianRatio: ratios.length > 0 ? median(ratios) : null,
          medianCorrectedRatio: corrected.length > 0 ? median(corrected) : null,
          stress: stressOf(described, written, friction),
        },
      ];
    });
}

/**
 * Stress that the torques imply, in the smaller section, with the friction of the published tables times the compound's
 * factor. A joint made up with a compound whose factor is not known is left out.
 *
 * @returns  Null where the geometry of the connection is not known, or no joint has torque and factor.
 */
function stressOf(
  item: Row<"tool_items">,
  written: readonly Row<"joints">[],
  factorOf: ReadonlyMap<string, number | null>,
): JointStress | null {
  const geometry = geometryOf(item);
  if (geometry === null) return null;
  const stresses = written.flatMap(({ final_torque_Nm: torque, compound }) => {
    const factor = compound == null ? null : factorOf.get(compound);
    return torque != null && torque > 0 && factor ? [stressAt(geometry, torque, factor)] : [];
  });
  const [low, middle, high] = stresses.length === 0 ? [] : quantile(stresses, [0.1, 0.5, 0.9]);
  if (low === undefined || middle === undefined || high === undefined) return null;
  const design = item.design_torque_Nm ?? null;
  return {
    atDesign: design === null || design <= 0 ? null : stressAt(geometry, design, 1),
    low,
    middle,
    high,
    joints: stresses.length,
  };
}

/** MPa; lengths in mm and torque in N·m. */
function stressAt(geometry: JointGeometry, torque: number, factor: number): number {
  const friction = TABLE_FRICTION * factor;
  return makeUpOfTorque({ ...geometry, threadFriction: friction, shoulderFriction: friction }, 1000 * torque).stress;
}

type JointGeometry = Omit<ShoulderedJoint, "threadFriction" | "shoulderFriction">;

function geometryOf(item: Row<"tool_items">): JointGeometry | null {
  const { section_mm2, thread_lead_mm, thread_radius_mm, shoulder_radius_mm, thread_half_angle } = item;
  if (!section_mm2 || !thread_lead_mm || !thread_radius_mm || !shoulder_radius_mm) return null;
  if (thread_half_angle == null || thread_half_angle <= 0 || thread_half_angle >= 90) return null;
  return {
    area: section_mm2,
    lead: thread_lead_mm,
    meanThreadRadius: thread_radius_mm,
    meanShoulderRadius: shoulder_radius_mm,
    threadHalfAngle: thread_half_angle,
  };
}
