/** What a teardown measures on an item: wear, compression set, breakout torque. Noise is that of the shop's gauges. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { footPounds } from "./shopUnits.ts";
import type { ToolState } from "./toolState.ts";
import type { ItemInUse } from "./trueLife.ts";
import { practiceTruths } from "./truth.ts";

type Measures = Pick<Row<"findings">, "measured" | "measured_kind" | "measured_unit" | "breakout_torque_Nm">;

const measuredOf = (mode: string) =>
  mode === "wear" || mode === "compression set" ? practiceTruths.measured[mode] : null;

export function shopMeasure(tool: ToolState, inUse: ItemInUse): Measures {
  const { look } = tool.draws;
  const { item } = inUse;
  if (item.kind === "joint") {
    const design = item.designFootPounds ?? 0;
    const failed = (name: string) =>
      inUse.modes.some(({ truth, life }) => truth.mode === name && life.failedAt !== null);
    const share = failed("back-off") ? 0.25 : failed("galling") ? 1.35 : 0.85;
    return { breakout_torque_Nm: footPounds(Math.round((design * share * look.normal(1, 0.08)) / 10) * 10) };
  }
  if (item.kind !== "guide" && item.kind !== "stack") return {};
  for (const mode of inUse.modes) {
    const measure = measuredOf(mode.truth.mode);
    if (measure === null) continue;
    const ideal = measure.limit * (mode.clock / mode.life.latentAge) ** measure.power;
    const rounding = measure.unit === "%" ? 1 : 20;
    const measured = Math.max(0, Math.round(ideal * look.normal(1, 0.04) * rounding) / rounding);
    return { measured, measured_kind: measure.kind, measured_unit: measure.unit };
  }
  return {};
}
