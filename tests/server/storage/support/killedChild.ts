/**
 * Opens a store, stores one drop and ends itself by SIGKILL at a named step. Where the step never comes it says what
 * it stored.
 */
import { openStore } from "../../../../server/storage/openStore.ts";
import { buildDrop } from "./drops.ts";

const [folder = "", databaseUrl = "", killAt = "", ...lines] = process.argv.slice(2);
const store = await openStore({
  folder,
  databaseUrl,
  onStep: (step) => {
    if (step === killAt) process.kill(process.pid, "SIGKILL");
  },
});
process.stdout.write("opened\n");
const { batch } = await store.storeBatch(buildDrop(lines));
process.stdout.write(`stored ${batch}\n`);
await store.close();
