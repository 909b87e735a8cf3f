import type { Database } from "../../../../server/storage/sql.ts";
import type { OpenStoreOptions, StoreStep } from "../../../../server/storage/store.ts";

/**
 * Options of a store that dies at a step as a killed process does, over an engine that lives on: its transaction is
 * rolled back and nothing is written or asked any more. Costs no process and no start of the engine.
 */
export function dyingOver(openDatabase: () => Promise<Database>) {
  const death: { at: StoreStep | null; dead: boolean } = { at: null, dead: false };
  const alive = () => {
    if (death.dead) throw new Error("the process is dead");
  };
  const options: Partial<OpenStoreOptions> = {
    openDatabase: async () => {
      const database = await openDatabase();
      return {
        ...database,
        query: async (text, parameters) => {
          alive();
          return await database.query(text, parameters);
        },
        transaction: async (work) => {
          alive();
          return await database.transaction(work);
        },
        close: async () => undefined,
      };
    },
    onStep: (step) => {
      if (step !== death.at) return;
      death.dead = true;
      throw new Error("killed");
    },
  };
  return { death, options };
}
