/** Geometry of the invented joints, as the item list has it: inches and square inches. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { convertUnit } from "../../../analysis/records/units.ts";
import { inches, squareInches } from "./shopUnits.ts";
import type { JointGeometry } from "./toolTypes.ts";

type Item = Row<"tool_items">;

export const geometryCells = (geometry: JointGeometry): Partial<Item> => ({
  section_mm2: squareInches(geometry.section),
  thread_lead_mm: inches(geometry.lead),
  thread_radius_mm: inches(geometry.threadRadius),
  shoulder_radius_mm: inches(geometry.shoulderRadius),
  thread_half_angle: geometry.halfAngle,
});

const back = (value: number | null | undefined, from: string, to: string): string =>
  value == null ? "" : String(Number(convertUnit(value, from, to).toFixed(4)));

const length = <Field extends keyof Item & string>(header: string, field: Field, description: string) => ({
  header,
  field,
  unit: "in",
  description,
  rule: { unit: "in" },
  cell: (row: Item) => {
    const value = row[field];
    return typeof value === "number" ? back(value, "mm", "in") : "";
  },
});

export const geometryColumns = [
  {
    header: "Section (in2)",
    field: "section_mm2" as const,
    unit: "in²",
    description: "Smaller section of pin or box",
    rule: { unit: "in²" },
    cell: (row: Item) => back(row.section_mm2, "mm²", "in²"),
  },
  length("Lead (in)", "thread_lead_mm", "Lead of the thread"),
  length("Thread radius (in)", "thread_radius_mm", "Mean thread radius"),
  length("Shoulder radius (in)", "shoulder_radius_mm", "Mean shoulder radius"),
  {
    header: "Half-angle (deg)",
    field: "thread_half_angle" as const,
    description: "Half the angle between the flanks",
    cell: (row: Item) => (row.thread_half_angle == null ? "" : String(row.thread_half_angle)),
  },
];
