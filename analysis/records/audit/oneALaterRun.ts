import { doubt, refOf } from "./doubt.ts";
import type { RunPair } from "./runPairs.ts";
import type { AuditRow } from "./types.ts";

/** One doubt a run that meets earlier ones in the way named, however many it meets. */
export function oneALaterRun(
  pairs: readonly RunPair[],
  kind: "runs overlap" | "serial in two places",
): readonly AuditRow[] {
  const byLater = new Map<RunPair["later"], RunPair[]>();
  for (const pair of pairs) {
    if (pair.kind !== kind) continue;
    const known = byLater.get(pair.later);
    if (known) known.push(pair);
    else byLater.set(pair.later, [pair]);
  }
  return [...byLater].map(([later, met]) => {
    const earlier = met[0]?.earlier.run;
    return doubt(kind, "runs", later.run, kind === "runs overlap" ? "out_on" : "serial", {
      others: met.map((pair) => refOf("runs", pair.earlier.run)),
      facts: {
        what: "tool",
        run: later.run.run,
        serial: later.run.serial,
        other: earlier?.run ?? null,
        out_on: later.run.out_on,
        other_in_on: earlier?.in_on ?? null,
        well: later.run.well ?? null,
        other_well: earlier?.well ?? null,
      },
    });
  });
}
