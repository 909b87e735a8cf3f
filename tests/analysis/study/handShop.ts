// A shop of three tools and nine months, small enough to work every number by hand.
import type { Records } from "../../../analysis/records/descriptor.ts";

/**
 * T1 (4 3/4 in)  R1; run a 100 h (A); look L1, nothing found; run b 60 h (B), leak seen at hour 40, pulled for it;
 *                look L2: seal extruded, J1 sound; R2: seal renewed, J1 as it was; run c 50 h (A); nobody looked since.
 * T2 (6 1/2 in)  R3; run d 80 h (A); look L3: J1 backed off, seal sound; R4: both new; run e 120 h (B); look L4, sound.
 * U1 (reamer)    R5; run f 30 h (A), pulled for a tool failure that names nothing; nobody looked.
 */
export const handShop: Records = {
  tool_items: [
    { tool_type: "axial damper", item: "main seal", kind: "seal", position: 1 },
    { tool_type: "axial damper", item: "J1", kind: "joint", position: 2 },
    { tool_type: "reamer", item: "pin", kind: "pin", position: 1 },
  ],
  modes: [
    { item: "seal", mode: "extrusion", announces: "hidden", threshold: 3, restored_by: "renewed", leads_to: "leak" },
    { item: "seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed" },
    { item: "joint", mode: "back-off", announces: "hidden", threshold: 3, restored_by: "made up" },
    { item: "pin", mode: "wear", announces: "hidden", threshold: 3, restored_by: "renewed" },
  ],
  tools: [
    { serial: "T1", tool_type: "axial damper", size_in: 4.75, hours_at_entry: 0, status: "in shop" },
    { serial: "T2", tool_type: "axial damper", size_in: 6.5, hours_at_entry: 0, status: "in shop" },
    { serial: "U1", tool_type: "reamer", size_in: 6.5, hours_at_entry: 0, status: "in shop" },
  ],
  redresses: [
    { redress: "R1", serial: "T1", done_on: "2024-01-05", reason: "new" },
    { redress: "R2", serial: "T1", done_on: "2024-03-01", reason: "failure" },
    { redress: "R3", serial: "T2", done_on: "2024-01-05", reason: "new" },
    { redress: "R4", serial: "T2", done_on: "2024-04-01", reason: "planned" },
    { redress: "R5", serial: "U1", done_on: "2024-01-05", reason: "new" },
  ],
  joints: [
    { redress: "R1", joint: "J1" },
    { redress: "R3", joint: "J1" },
    { redress: "R4", joint: "J1" },
  ],
  fitted_items: [
    { redress: "R1", item: "main seal", renewed: true },
    { redress: "R1", item: "J1", renewed: true },
    { redress: "R2", item: "main seal", renewed: true },
    { redress: "R2", item: "J1", renewed: false },
    { redress: "R3", item: "main seal", renewed: true },
    { redress: "R3", item: "J1", renewed: true },
    { redress: "R4", item: "main seal", renewed: true },
    { redress: "R4", item: "J1", renewed: true },
    { redress: "R5", item: "pin", renewed: true },
  ],
  runs: [
    { ...run("a", "T1", "2024-01-10", "2024-01-20", 100, "A") },
    {
      ...run("b", "T1", "2024-02-10", "2024-02-20", 60, "B"),
      ...{ pulled_because: "tool failure", item_seen: "main seal", mode_seen: "leak", hour_seen: 40 },
    },
    { ...run("c", "T1", "2024-07-10", "2024-07-15", 50, "A") },
    { ...run("d", "T2", "2024-03-01", "2024-03-10", 80, "A") },
    { ...run("e", "T2", "2024-08-01", "2024-08-10", 120, "B") },
    { ...run("f", "U1", "2024-02-01", "2024-02-08", 30, "A"), pulled_because: "tool failure" },
  ],
  teardowns: [
    {
      teardown: "L1",
      serial: "T1",
      done_on: "2024-01-25",
      why: "planned",
      kind: "stripped",
      scope: ["main seal", "J1"],
    },
    { teardown: "L2", serial: "T1", done_on: "2024-02-25", why: "tool failure", kind: "stripped", scope: [] },
    { teardown: "L3", serial: "T2", done_on: "2024-03-15", why: "planned", kind: "stripped", scope: [] },
    {
      teardown: "L4",
      serial: "T2",
      done_on: "2024-08-20",
      why: "planned",
      kind: "stripped",
      scope: ["main seal", "J1"],
    },
  ],
  findings: [
    { teardown: "L2", item: "main seal", condition: "extrusion", severity: 4 },
    { teardown: "L2", item: "J1", condition: "sound", severity: 0 },
    { teardown: "L3", item: "J1", condition: "back-off", severity: 4 },
    { teardown: "L3", item: "main seal", condition: "sound", severity: 0 },
  ],
};

function run(name: string, serial: string, out_on: string, in_on: string, hours: number, customer: string) {
  const pulled_because: "planned" | "tool failure" = "planned";
  return { run: name, serial, out_on, in_on, hours, customer, hours_kind: "circulating" as const, pulled_because };
}

export const context = { dataHash: "by hand", statements: [], sample: false } as const;
