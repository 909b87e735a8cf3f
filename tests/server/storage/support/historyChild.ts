/** Opens a store, takes one step of a history and ends itself by SIGKILL at the step of storing that the history names. */
import { openStore } from "../../../../server/storage/openStore.ts";
import { historyStep, takeHistoryStep } from "./historySteps.ts";

const [folder = "", databaseUrl = "", seed = "", index = ""] = process.argv.slice(2);
const { killAt } = historyStep(Number(seed), Number(index));
const store = await openStore({
  folder,
  databaseUrl,
  onStep: (step) => {
    if (step === killAt) process.kill(process.pid, "SIGKILL");
  },
});
process.stdout.write("opened\n");
// A step that stores nothing never comes to where it would be killed.
process.stdout.write(`${await takeHistoryStep(store, Number(seed), Number(index))}\n`);
await store.close();
