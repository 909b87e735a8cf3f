import { afterAll, beforeAll, expect, test } from "vitest";
import type { StoreStep } from "../../../../server/storage/store.ts";
import { startChild } from "./child.ts";
import { buildDrop } from "./drops.ts";
import { type Engine, type engines, startEngine } from "./engines.ts";

/** What a child of `killedChild.ts` is to do. */
export interface ChildTask {
  readonly folder: string;
  readonly databaseUrl: string;
  readonly killAt: StoreStep | "";
  /** Begins the numbers of the builds whose rows are counted. */
  readonly prefix: string;
  readonly before: readonly string[];
  readonly next: readonly string[];
}
export interface FoundByChild {
  readonly opening: readonly string[];
  readonly batches: number;
  /** Of redresses, joints and fitted items. */
  readonly rows: readonly number[];
  readonly dataHash: string;
}
export interface StoredByChild {
  readonly batch: number;
  readonly new: number;
  readonly unchanged: number;
  readonly dataHash: string;
}

/** The journal entry is the promise: from "journal written" on, the batch is whole after the next start. */
const steps: readonly {
  readonly step: StoreStep;
  readonly afterwards: "absent" | "whole";
  readonly caughtUp: boolean;
}[] = [
  { step: "files written", afterwards: "absent", caughtUp: false },
  { step: "rows written", afterwards: "absent", caughtUp: false },
  { step: "journal written", afterwards: "whole", caughtUp: true },
  { step: "before commit", afterwards: "whole", caughtUp: true },
  { step: "after commit", afterwards: "whole", caughtUp: false },
  { step: "before reply", afterwards: "whole", caughtUp: false },
];

const linesOf = (index: number) => [`B${index}a,S1,2025-01-01,yes,1200.5,1`, `B${index}b,S2,2025-01-02,no,,2`];

/**
 * A process killed at every step of storing a drop. Each child is the next start after the kill before: it says what
 * it found, takes the same drop again, and dies in the next one.
 */
export function killedCases(kind: (typeof engines)[number]): void {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  test("has the drop whole or not at all after the next start, and takes the same drop then", async () => {
    const place = await engine.freshPlace();
    let batches = 0;
    for (let index = 0; index <= steps.length; index += 1) {
      const [died, next] = [steps[index - 1], steps[index]];
      const task: ChildTask = {
        folder: place.folder,
        databaseUrl: place.databaseUrl ?? "",
        killAt: next?.step ?? "",
        prefix: `B${index - 1}`,
        before: died === undefined ? [] : linesOf(index - 1),
        next: next === undefined ? [] : linesOf(index),
      };
      const child = await startChild("killedChild", [JSON.stringify(task)]);
      const line = async <T>() => JSON.parse((await child.nextLine()) ?? "null") as T;
      const found = await line<FoundByChild>();
      expect([found === null, child.errors()]).toEqual([false, ""]);
      if (died !== undefined) {
        const { step, afterwards, caughtUp } = died;
        const whole = afterwards === "whole";
        expect({ step, opening: found.opening }).toEqual({
          step,
          opening: ["stale-lock-taken-over", ...(caughtUp ? ["caught-up"] : [])],
        });
        expect({ step, there: found.batches - batches }).toEqual({ step, there: whole ? 1 : 0 });
        expect({ step, rows: found.rows }).toEqual({ step, rows: whole ? [2, 2, 2] : [0, 0, 0] });
        const again = await line<StoredByChild>();
        expect(again).toMatchObject(whole ? { new: 0, unchanged: 2 } : { new: 2, unchanged: 0 });
        if (whole) expect(again.dataHash).toBe(found.dataHash);
        batches = again.batch;
      }
      if (next !== undefined) {
        expect([await child.nextLine(), await child.ended(), child.errors()]).toEqual([null, "SIGKILL", ""]);
        continue;
      }
      // Killed six times or never: the same data.
      const { store: straight } = await engine.freshStore();
      for (const each of steps.keys()) await straight.storeBatch(buildDrop(linesOf(each)));
      const closed = await line<FoundByChild>();
      expect(closed).toMatchObject({
        opening: ["closed"],
        dataHash: (await straight.loadRecords()).dataHash,
      });
      expect(await child.ended()).toBe(0);
      await straight.close();
    }
  }, 180_000);
}
