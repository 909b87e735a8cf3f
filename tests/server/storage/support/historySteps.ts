import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { StorageError } from "../../../../server/storage/storageError.ts";
import type { Store, StoreStep } from "../../../../server/storage/store.ts";
import type { AnswerGiven } from "../../../../server/storage/types.ts";
import { buildMapping, drop, fittedMapping, runMapping } from "./drops.ts";

export type HistoryDeed = "drop" | "edit" | "answers" | "undo";

/** One step of a history, made from its seed and number alone: whoever takes it, in whatever process, takes the same. */
export interface HistoryStep {
  readonly deed: HistoryDeed;
  /** The step of storing at which the process is to be killed. */
  readonly killAt: StoreStep | null;
}

const kills: readonly StoreStep[] = [
  "files written",
  "rows written",
  "journal written",
  "before commit",
  "after commit",
  "before reply",
];

function randomOf(seed: number, index: number, purpose: number) {
  const generator = xoroshiro128plus(Math.imul(seed, 0x9e3779b1) ^ Math.imul(index + 1, 0x85ebca6b) ^ purpose);
  for (let warm = 0; warm < 8; warm += 1) uniformFloat64(generator);
  const whole = (most: number) => uniformInt(generator, 0, most);
  return {
    whole,
    chance: (probability: number) => uniformFloat64(generator) < probability,
    oneOf: <T>(choices: readonly T[]): T => choices[whole(choices.length - 1)] as T,
  };
}

export function historyStep(seed: number, index: number): HistoryStep {
  const { chance, oneOf } = randomOf(seed, index, 1);
  const deed: HistoryDeed = index === 0 ? "drop" : oneOf(["drop", "edit", "answers", "answers", "undo", "undo"]);
  return { deed, killAt: chance(0.4) ? oneOf(kills) : null };
}

/** Takes one step. Returns what was done; "refused: ..." where the store says that nothing would change. */
export async function takeHistoryStep(store: Store, seed: number, index: number): Promise<string> {
  const random = randomOf(seed, index, 2);
  const when = new Date(Date.UTC(2026, 0, 1) + index * 60_000).toISOString();
  switch (historyStep(seed, index).deed) {
    case "drop": {
      const { batch } = await store.storeBatch({ ...randomDrop(random), when });
      return `batch ${batch}`;
    }
    case "edit": {
      const runs = (await store.loadRecords()).records.runs ?? [];
      const lines = runs
        .filter(() => random.chance(0.5))
        .map(({ run, serial, out_on, in_on, hours }) =>
          [run, serial, out_on, in_on ?? "", random.chance(0.5) ? random.whole(200) : (hours ?? ""), "planned"].join(
            ",",
          ),
        );
      const text = ["Run,Serial,Out,In,Hours,Pulled", ...lines, ""].join("\n");
      const { batch } = await store.storeBatch({ ...drop([{ file: "runs.csv", text, mapping: runMapping }]), when });
      return `batch ${batch}`;
    }
    case "answers": {
      const given = await randomAnswers(store, random);
      if (given.length === 0) return "no row to decide about";
      await store.addAnswers(given, "CD", when);
      return `${given.length} answers`;
    }
    case "undo": {
      // Mostly what was stored lately: that is what somebody takes back.
      const batches = (await store.batches()).slice(random.chance(0.8) ? -4 : 0);
      if (batches.length === 0) return "refused: there is no batch yet";
      const { batch } = random.oneOf(batches);
      try {
        const { stored } = await store.undoBatch(batch, "CD", when);
        return `batch ${stored.batch} takes back batch ${batch}`;
      } catch (error) {
        if (error instanceof StorageError && error.code === "nothing-to-undo") return `refused: ${error.code}`;
        throw error;
      }
    }
  }
}

type Random = ReturnType<typeof randomOf>;

function randomDrop({ whole, oneOf, chance }: Random) {
  const several = (line: () => string) => Array.from({ length: whole(5) }, line);
  const key = (prefix: string) => `${prefix}${1 + whole(5)}`;
  const date = () => oneOf(["2025-01-02", "2025-03-04", "2025-02-11", "2025-04-05", "2025-13-02", ""]);
  const runs = several(() =>
    [
      key("R"),
      key("S"),
      date(),
      oneOf(["2025-04-09", ""]),
      oneOf(["96.25", "1e3", "-4", "about 90", ""]),
      oneOf(["planned", "odd", ""]),
    ].join(","),
  );
  const builds = several(() =>
    [key("B"), key("S"), date(), oneOf(["yes", "no", ""]), oneOf(["1200", "12.5 kN·m", ""]), whole(9)].join(","),
  );
  const fitted = several(() =>
    [key("B"), oneOf(["main seal", "J1"]), oneOf(["yes", "no"]), oneOf(["FKM", '"a ""b"""', "=1"])].join(","),
  );
  const answered = chance(0.7);
  return drop(
    [
      { file: "runs.csv", text: ["Run,Serial,Out,In,Hours,Pulled", ...runs, ""].join("\n"), mapping: runMapping },
      {
        file: "builds.csv",
        text: ["Build,Serial,Done,New threads,Torque,Cycles", ...builds, ""].join("\n"),
        mapping: { ...buildMapping, addRows: buildMapping.addRows.map((added) => ({ ...added, answered })) },
      },
      { file: "fitted.csv", text: ["Build,Item,Renewed,Elastomer", ...fitted, ""].join("\n"), mapping: fittedMapping },
    ],
    chance(0.3) ? { setup: [{ table: "tools", values: { serial: key("S"), tool_type: "T" }, why: "confirmed" }] } : {},
  );
}

/** Corrections, exclusions and acceptances of runs as they stand. */
async function randomAnswers(store: Store, { whole, chance, oneOf }: Random): Promise<readonly AnswerGiven[]> {
  const runs = (await store.loadRecords()).records.runs ?? [];
  return runs
    .filter(() => chance(0.6))
    .map(({ run, hours }) => {
      const verdict = oneOf(["accept", "correct", "exclude"] as const);
      const asRow = verdict === "exclude" && chance(0.5);
      return {
        table: "runs" as const,
        key: JSON.stringify([run]),
        column: asRow ? null : "hours",
        was: asRow ? null : (hours ?? null),
        becomes: verdict === "correct" ? whole(300) : null,
        verdict,
        rule: null,
        why: "decided",
      };
    });
}
