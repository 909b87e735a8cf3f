import { median } from "simple-statistics";
import type { Row } from "../descriptor.ts";
import type { AuditContext } from "./auditContext.ts";
import { dayNumber } from "./dayNumber.ts";

/** One joint made up, with the torques it is held against; N·m. */
export interface MadeUpJoint {
  readonly joint: Row<"joints">;
  readonly serial: string;
  readonly technician: string | null;
  readonly day: number;
  /** Design torque of the joint; null where the item list has none. */
  readonly design: number | null;
  /** Middle of the targets for this joint of this tool type with this compound; null below five of them. */
  readonly usualTarget: number | null;
  /** Middle of the final torques of this joint of this tool type; null below five of them. */
  readonly usualFinal: number | null;
}

const ENOUGH = 5;

/** The joints of all redresses in order of time, each with what is usual for it in this shop. */
export function madeUpJoints({ records, redressOf, stories, jointsOf }: AuditContext): readonly MadeUpJoint[] {
  const designs = new Map(
    (records.tool_items ?? []).map((row) => [JSON.stringify([row.tool_type, row.item]), row.design_torque_Nm ?? null]),
  );
  const rows = [...redressOf.values()].flatMap((redress) =>
    (jointsOf.get(redress.redress) ?? []).map((joint) => {
      const type = stories.get(redress.serial)?.tool?.tool_type ?? null;
      return { joint, redress, place: JSON.stringify([type, joint.joint]) };
    }),
  );
  const targets = middles(
    rows.map(({ joint, place }) => [`${place}${joint.compound ?? ""}`, joint.target_torque_Nm ?? null] as const),
  );
  const finals = middles(rows.map(({ joint, place }) => [place, joint.final_torque_Nm ?? null] as const));
  return rows.map(({ joint, redress, place }) => ({
    joint,
    serial: redress.serial,
    technician: redress.technician ?? null,
    day: dayNumber(redress.done_on),
    design: designs.get(place) ?? null,
    usualTarget: targets.get(`${place}${joint.compound ?? ""}`) ?? null,
    usualFinal: finals.get(place) ?? null,
  }));
}

function middles(values: readonly (readonly [place: string, value: number | null])[]): ReadonlyMap<string, number> {
  const lists = new Map<string, number[]>();
  for (const [place, value] of values) {
    if (value === null || value <= 0) continue;
    const list = lists.get(place);
    if (list) list.push(value);
    else lists.set(place, [value]);
  }
  return new Map([...lists].flatMap(([place, list]) => (list.length < ENOUGH ? [] : [[place, median(list)] as const])));
}
