/**
 * Random histories of drops, edits, answers, undos and kills: is everything acknowledged kept, does an undo do what it
 * says, and does the journal alone give the same tables? Processes are really killed (SIGKILL) at steps of storing.
 * Seeded; prints a line a history.
 *
 *   npx tsx tests/studies/storeHistories.ts                  fifty histories on a PostgreSQL server
 *   npx tsx tests/studies/storeHistories.ts embedded 10 7    ten on the embedded engine, from seed 7 on
 */
import { openStore } from "../../server/storage/openStore.ts";
import { rebuildStore } from "../../server/storage/rebuildStore.ts";
import { startChild } from "../server/storage/support/child.ts";
import { engines, startEngine } from "../server/storage/support/engines.ts";
import { type HistoryStage, runHistory } from "../server/storage/support/runHistory.ts";
import { copyEmptyData } from "../support/postgresFolder.ts";

const stepsEach = 20;

const [kindAsked = "server", countAsked = "50", firstSeed = "1"] = process.argv.slice(2);
const kind = engines.find((each) => each === kindAsked);
if (kind === undefined) throw new Error(`The engine is ${engines.join(" or ")}, not ${kindAsked}.`);

const engine = await startEngine(kind);
let failed = 0;
for (let seed = Number(firstSeed); seed < Number(firstSeed) + Number(countAsked); seed += 1) {
  const place = await engine.freshPlace();
  const stage: HistoryStage = {
    open: () => openStore(place),
    async takeAndDie(number, index) {
      const child = await startChild("historyChild", [place.folder, place.databaseUrl ?? "", `${number}`, `${index}`]);
      const how = await child.ended();
      if (how !== "SIGKILL" && how !== 0) throw new Error(`the process ended with ${how}: ${child.errors()}`);
      return how === "SIGKILL" ? "killed" : "done";
    },
    async rebuilt() {
      const { tables, differing } = await rebuildStore({ ...place, replace: true, emptyData: copyEmptyData });
      if (differing.length > 0) throw new Error(`batches ${differing.join(", ")} read otherwise`);
      return Object.fromEntries(tables.map(({ table, after }) => [table, after]));
    },
  };
  try {
    const { deeds, kills, refused, undosChecked, batches, answers, stale, rows } = await runHistory(
      stage,
      seed,
      stepsEach,
    );
    const did = Object.entries(deeds).map(([deed, count]) => `${count} ${deed}`);
    console.log(
      `history ${seed}: ${did.join(", ")}; ${kills} kills, ${refused} refused, ${undosChecked} undos checked; ` +
        `${batches} batches, ${answers} answers (${stale} stale), ${rows} rows; rebuilt equal`,
    );
  } catch (error) {
    failed += 1;
    console.log(`history ${seed}: FAILED: ${error instanceof Error ? error.message.slice(0, 2_000) : String(error)}`);
  }
}
await engine.stop();
console.log(failed === 0 ? `${countAsked} histories, all equal` : `${failed} of ${countAsked} histories failed`);
// The server's package ends the process itself when nothing is left to do, with 0.
process.exit(failed === 0 ? 0 : 1);
