import { highOf, spanOf, toAge } from "../lives/age.ts";
import { compareNumbered } from "../lives/clockRuns.ts";
import type { Age, Life, RunMark } from "../lives/types.ts";
import type { Row } from "../records/descriptor.ts";
import type { ShopData } from "./shopData.ts";

/** Where a mode of an item stands now: its latest restoration, its age, and whether it is known to run. */
export interface PresentAge {
  readonly item: string;
  readonly mode: string;
  readonly since: string;
  readonly sinceOn: string;
  readonly age: Age;
  readonly state: "running" | "failed" | "not known";
  readonly restoredBy: "renewed" | "made up";
  /** Age at the last look that found it sound since then; 0 without one. */
  readonly cleanAt: number;
  /** Runs since then on its clock; null where no life holds them yet. */
  readonly runs: readonly RunMark[] | null;
}

type Standing = Omit<PresentAge, "item" | "mode" | "restoredBy">;

const known = new WeakMap<ShopData["derived"], Map<string, Map<string, Standing>>>();

/** The latest restoration of each mode of a serial, its age now, and whether it is known to run, known failed, or not known. */
export function presentAges(data: ShopData, serial: string, items: readonly Row<"tool_items">[]): PresentAge[] {
  const standing = standings(data).get(serial);
  return items.flatMap(({ tool_type, item }) =>
    data.modesOf(tool_type, item).flatMap(({ mode, restoredBy }) => {
      const found = standing?.get(keyFor(item, mode));
      return found ? [{ item, mode, ...found, restoredBy }] : [];
    }),
  );
}

/** Every serial's, worked out once for the same lives. */
function standings({ derived }: ShopData): Map<string, Map<string, Standing>> {
  const before = known.get(derived);
  if (before) return before;
  const bySerial = new Map<string, Map<string, Standing>>();
  const take = (serial: string, item: string, mode: string, standing: Standing) => {
    const latest = bySerial.get(serial) ?? new Map<string, Standing>();
    bySerial.set(serial, latest);
    const other = latest.get(keyFor(item, mode));
    if (
      !other ||
      standing.sinceOn > other.sinceOn ||
      (standing.sinceOn === other.sinceOn && compareNumbered(standing.since, other.since) > 0)
    )
      latest.set(keyFor(item, mode), standing);
  };
  for (const life of derived.lives) {
    take(life.serial, life.item, life.mode, {
      since: life.since,
      sinceOn: life.sinceOn,
      age: toAge(spanOf(life.runs.at(-1)?.to ?? life.lower)),
      state: life.kind === "right" && life.closedBy !== "another mode" ? "running" : "failed",
      cleanAt: cleanAt(life),
      runs: life.runs,
    });
  }
  for (const [rows, state] of [
    [derived.noInformationYet, "running"],
    [derived.excluded, "not known"],
  ] as const) {
    for (const { serial, item, mode, since, sinceOn, hours } of rows)
      take(serial, item, mode, { since, sinceOn, age: hours, state, cleanAt: 0, runs: null });
  }
  known.set(derived, bySerial);
  return bySerial;
}

const keyFor = (item: string, mode: string): string => JSON.stringify([item, mode]);

function cleanAt({ looks }: Life): number {
  const last = looks.findLast(({ found }) => found === "sound as written" || found === "sound by scope");
  return last ? highOf(last.age) : 0;
}
