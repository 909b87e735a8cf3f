import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { dyingOver } from "./support/dyingDatabase.ts";
import { type Engine, engines, startEngine } from "./support/engines.ts";
import { historyStep, takeHistoryStep } from "./support/historySteps.ts";
import { type HistoryStage, runHistory } from "./support/runHistory.ts";

// Fifty of them, with processes that are really killed: npx tsx tests/studies/storeHistories.ts
const seeds = { embedded: [1, 2, 3], server: [4, 5] };

describe.each(engines)("random histories of the %s store", (kind) => {
  let engine: Engine;
  beforeAll(async () => {
    engine = await startEngine(kind);
  });
  afterAll(() => engine.stop());

  async function stageOf(): Promise<HistoryStage> {
    const { store, folder } = await engine.freshStore();
    await store.close();
    return {
      open: () => engine.reopen(folder),
      async takeAndDie(seed, index) {
        const { death, options } = dyingOver(() => engine.keptDatabase());
        const store = await engine.reopen(folder, options);
        death.at = historyStep(seed, index).killAt;
        const how = await takeHistoryStep(store, seed, index).then(
          () => "done" as const,
          (error: unknown) => {
            if (!death.dead) throw error;
            return "killed" as const;
          },
        );
        await store.close();
        return how;
      },
      async rebuilt() {
        const { store } = await engine.freshStore({ folder });
        const hashes = await store.tableHashes();
        await store.close();
        return hashes;
      },
    };
  }

  test.each(seeds[kind])(
    "of seed %i keep everything acknowledged, and the journal gives the same tables",
    async (seed) => {
      const { deeds, kills, undosChecked } = await runHistory(await stageOf(), seed, 18);
      expect(Object.values(deeds).reduce((sum, each) => sum + each)).toBe(18);
      expect(kills).toBeGreaterThan(0);
      expect(undosChecked).toBeGreaterThan(0);
    },
  );
});
