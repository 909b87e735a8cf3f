/** The two invented tool types with their items. Both sizes of a type share one cartridge, so one design torque a joint. */
import type { Row } from "../../../analysis/records/descriptor.ts";
import { type ModeTruth, modeTruths } from "./truth.ts";

export interface JointGeometry {
  /** Square inches. */
  readonly section: number;
  readonly lead: number;
  readonly threadRadius: number;
  readonly shoulderRadius: number;
  /** Degrees. */
  readonly halfAngle: number;
}

export interface ItemOfType {
  readonly item: string;
  readonly kind: Row<"tool_items">["kind"];
  readonly position: number;
  readonly designFootPounds: number | null;
  readonly connection: string | null;
  /** Of a joint whose drawing the shop has; inches. */
  readonly geometry: JointGeometry | null;
  readonly kit: string | null;
  readonly aliases: readonly string[];
  readonly modes: readonly ModeTruth[];
}

export interface ToolType {
  readonly name: string;
  readonly prefix: string;
  readonly items: readonly ItemOfType[];
}

const item = (
  name: string,
  kind: ItemOfType["kind"],
  position: number,
  more: Partial<Pick<ItemOfType, "designFootPounds" | "connection" | "geometry" | "kit" | "aliases">> = {},
): ItemOfType => ({
  item: name,
  kind,
  position,
  designFootPounds: more.designFootPounds ?? null,
  connection: more.connection ?? null,
  geometry: more.geometry ?? null,
  kit: more.kit ?? null,
  aliases: more.aliases ?? [],
  modes: modeTruths.filter((mode) => mode.item === name || mode.item === kind),
});

/** Four threads an inch, 60 degrees between the flanks. Invented, like the tools. */
const stub = (section: number, threadRadius: number, shoulderRadius: number): JointGeometry => ({
  section,
  lead: 0.25,
  threadRadius,
  shoulderRadius,
  halfAngle: 30,
});

export const toolTypes: readonly ToolType[] = [
  {
    name: "axial damper",
    prefix: "AD",
    items: [
      item("J1", "joint", 1, {
        designFootPounds: 2800,
        connection: "top cap, 3 1/8 - 4 stub",
        geometry: stub(2.2, 1.45, 1.75),
        aliases: ["top joint"],
      }),
      item("main seal", "seal", 2, { kit: "K-AD-1", aliases: ["m seal"] }),
      item("guide band", "guide", 3, { kit: "K-AD-2", aliases: ["band"] }),
      item("anti-rotation pin", "pin", 4, { kit: "K-AD-2", aliases: ["ar pin"] }),
      item("J2", "joint", 5, {
        designFootPounds: 1900,
        connection: "mid body, 2 7/8 - 4 stub",
        geometry: stub(1.7, 1.33, 1.6),
        aliases: ["mid joint"],
      }),
      item("stack", "stack", 6, { kit: "K-AD-3", aliases: ["damper stack"] }),
      item("mandrel", "body", 7),
      item("J3", "joint", 8, {
        designFootPounds: 4200,
        connection: "bottom, 3 1/2 - 4 stub",
        geometry: stub(3, 1.62, 1.98),
        aliases: ["bottom joint"],
      }),
    ],
  },
  {
    name: "bypass valve",
    prefix: "BV",
    items: [
      item("J1", "joint", 1, {
        designFootPounds: 2200,
        connection: "top cap, 3 - 4 stub",
        geometry: stub(1.9, 1.39, 1.68),
        aliases: ["top joint"],
      }),
      item("gate seal", "seal", 2, { kit: "K-BV-1", aliases: ["g seal"] }),
      item("index pin", "pin", 3, { kit: "K-BV-1" }),
      item("J2", "joint", 4, {
        designFootPounds: 3600,
        connection: "bottom, 3 1/4 - 4 stub",
        aliases: ["lower joint"],
      }),
    ],
  },
];
