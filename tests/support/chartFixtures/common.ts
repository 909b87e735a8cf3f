/** What the three fixtures share: seeded numbers, dates, the invented tool, a scope. */
import type { Provenance, Row, Scope, StudyDefinition } from "../../../analysis/index.ts";

/** Uniform numbers in [0, 1) from a 32-bit counter (mulberry32); enough for pictures. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** The date `days` days after 2023-01-01. */
export const dateOn = (days: number): string =>
  new Date(Date.UTC(2023, 0, 1 + Math.floor(days))).toISOString().slice(0, 10);

export const cutoff = "2026-06-30";
export const lastDay = 1276;
export const toolType = "axial damper";

export const items: readonly Row<"tool_items">[] = [
  { tool_type: toolType, item: "top body", kind: "body", position: 1 },
  { tool_type: toolType, item: "J1", kind: "joint", position: 2, design_torque_Nm: 21000 },
  { tool_type: toolType, item: "upper seal", kind: "seal", position: 3 },
  { tool_type: toolType, item: "guide band", kind: "guide", position: 4 },
  { tool_type: toolType, item: "J2", kind: "joint", position: 5, design_torque_Nm: 18500 },
  { tool_type: toolType, item: "spring stack", kind: "stack", position: 6 },
  { tool_type: toolType, item: "J3", kind: "joint", position: 7, design_torque_Nm: 18500 },
  { tool_type: toolType, item: "torque pin", kind: "pin", position: 8 },
  { tool_type: toolType, item: "main seal", kind: "seal", position: 9 },
  { tool_type: toolType, item: "J4", kind: "joint", position: 10, design_torque_Nm: 21000 },
];

export const wholeScope: Scope = {
  toolType,
  sizeIn: 6.5,
  item: null,
  mode: null,
  serial: null,
  customer: null,
  from: null,
  to: null,
};

export const definition = (question: StudyDefinition["question"], scope: Scope): StudyDefinition => ({
  question,
  scope,
  cutoff: null,
  thresholds: {},
  refittedMeansSound: false,
  hoursKind: null,
  missingHours: "shop rate",
  confidence: 0.9,
  statedAge: question === "item life" ? 250 : null,
  seed: 1,
});

export const provenance: Provenance = {
  dataHash: "5d0c3f9e21b7",
  studyHash: "a41e08c7d3f2",
  engineVersion: "0.1.0",
  cutoff,
};
