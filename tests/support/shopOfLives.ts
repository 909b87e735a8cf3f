import type { Records } from "../../analysis/records/descriptor.ts";

/** Hours a seal ran, and whether it then failed at that hour ("leak") or was found good. */
export interface RunLife {
  readonly hours: number | null;
  readonly failed: boolean;
}

/** An invented shop with one tool a life: built, run once, looked at. The leak of the seal is evident. */
export function shopOfLives(lives: readonly RunLife[]): Records {
  const all = lives.map((life, index) => ({ ...life, serial: `V-${index + 1}` }));
  return {
    tool_items: [{ tool_type: "Valve", item: "seal", kind: "seal", position: 1 }],
    modes: [{ item: "seal", mode: "leak", announces: "evident", threshold: 3, restored_by: "renewed" }],
    tools: all.map(({ serial }) => ({ serial, tool_type: "Valve", hours_at_entry: 0, status: "in shop" })),
    redresses: all.map(({ serial }) => ({ redress: `R ${serial}`, serial, done_on: "2024-01-02", reason: "new" })),
    fitted_items: all.map(({ serial }) => ({ redress: `R ${serial}`, item: "seal", renewed: true })),
    runs: all.map(({ serial, hours, failed }) => ({
      run: `run ${serial}`,
      serial,
      out_on: "2024-01-05",
      in_on: "2024-03-25",
      ...(hours === null ? {} : { hours, hours_kind: "circulating" as const }),
      pulled_because: failed ? ("tool failure" as const) : ("planned" as const),
      ...(failed ? { item_seen: "seal", mode_seen: "leak", ...(hours === null ? {} : { hour_seen: hours }) } : {}),
    })),
    teardowns: all.map(({ serial, failed }) => ({
      teardown: `look ${serial}`,
      serial,
      done_on: "2024-03-27",
      why: failed ? ("tool failure" as const) : ("planned" as const),
      scope: ["seal"],
      kind: "stripped" as const,
    })),
    findings: all.map(({ serial, failed }) =>
      failed
        ? { teardown: `look ${serial}`, item: "seal", condition: "leak", severity: 4 }
        : { teardown: `look ${serial}`, item: "seal", condition: "sound" },
    ),
  };
}
