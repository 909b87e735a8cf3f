import { median } from "simple-statistics";
import { type CellNotes, cellName } from "../../practice/explain/buildFacts.ts";
import { keyOf } from "../../records/descriptor.ts";
import { betweenDates, type ShopData } from "../shopData.ts";
import type { Scope } from "../types.ts";
import type { JointTorques } from "./types.ts";

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
    .flatMap(({ tool_type, item, design_torque_Nm }): JointTorques[] => {
      const own = rows
        .filter(({ joint, toolType }) => joint.joint === item && toolType === tool_type)
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
          item,
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
        },
      ];
    });
}
