import {
  convertUnit,
  formatExact,
  formatNumber,
  type JointStress,
  type JointTorques,
} from "../../../analysis/index.ts";
import { DataTable } from "../parts/DataTable.tsx";

/** How the torque of each joint was written down, and where it came to lie. */
export function JointsTable({ joints }: { readonly joints: readonly JointTorques[] }) {
  if (joints.length === 0) return <p class="muted">No joint was made up in this scope.</p>;
  const count = (title: string, read: (joint: JointTorques) => number) => ({
    title,
    numeric: true as const,
    show: (joint: JointTorques) => formatExact(read(joint)),
    value: read,
  });
  const ratio = (title: string, read: (joint: JointTorques) => number | null) => ({
    title,
    numeric: true as const,
    show: (joint: JointTorques) => {
      const value = read(joint);
      return value === null ? "not known" : formatNumber(value);
    },
    value: read,
  });
  return (
    <DataTable
      caption="Torque of the shop's joints, as written"
      fill
      rows={joints}
      keyOf={({ toolType, item }) => `${toolType} ${item}`}
      file="joint-torques.csv"
      group={{ title: "Tool type", keyOf: ({ toolType }) => toolType, show: ({ toolType }) => toolType }}
      fileColumns={[{ title: "tool_type", value: ({ toolType }) => toolType }]}
      columns={[
        { title: "Joint", show: ({ item }) => item, value: ({ item }) => item },
        {
          title: "Design torque",
          numeric: true,
          show: ({ designTorqueNm }) => sayBoth(designTorqueNm),
          value: ({ designTorqueNm }) => designTorqueNm,
        },
        count("Made up", ({ madeUp }) => madeUp),
        ratio("Median over design", ({ medianRatio }) => medianRatio),
        ratio("Corrected for compound", ({ medianCorrectedRatio }) => medianCorrectedRatio),
        {
          title: "Implied stress, middle (10 % to 90 %)",
          numeric: true,
          show: ({ stress }) => sayStress(stress),
          value: ({ stress }) => stress?.middle ?? null,
        },
        {
          title: "Stress at design torque",
          numeric: true,
          show: ({ stress }) => (stress?.atDesign == null ? "not known" : sayMegapascals(stress.atDesign)),
          value: ({ stress }) => stress?.atDesign ?? null,
        },
        count("Below 0.9", ({ below90 }) => below90),
        count("Above 1.1", ({ above110 }) => above110),
        count("Words only", ({ asText }) => asText),
        count("Unit in doubt", ({ inDoubt }) => inDoubt),
        count("Blank", ({ notWritten }) => notWritten),
      ]}
    />
  );
}

const sayMegapascals = (value: number): string =>
  `${formatNumber(value)} MPa (${formatNumber(convertUnit(value, "MPa", "ksi"))} ksi)`;

function sayStress(stress: JointStress | null): string {
  if (stress === null) return "geometry not known";
  const { low, middle, high } = stress;
  return `${sayMegapascals(middle)}, ${formatNumber(low)} to ${formatNumber(high)}`;
}

function sayBoth(newtonMetres: number | null): string {
  if (newtonMetres === null) return "not known";
  return `${formatNumber(newtonMetres, 4)} N·m (${formatNumber(convertUnit(newtonMetres, "N·m", "ft-lbf"), 4)} ft-lbf)`;
}
