/**
 * Opens a store and says what it found; stores the drop before once more and says how it counts; then stores the next
 * drop and ends itself by SIGKILL at a named step. Without a next drop it closes the store.
 */
import { openStore } from "../../../../server/storage/openStore.ts";
import { buildDrop } from "./drops.ts";
import type { ChildTask, FoundByChild, StoredByChild } from "./killedCases.ts";

const task = JSON.parse(process.argv[2] ?? "") as ChildTask;
const say = (line: FoundByChild | StoredByChild | "closed") => process.stdout.write(`${JSON.stringify(line)}\n`);

let armed = false;
const store = await openStore({
  folder: task.folder,
  databaseUrl: task.databaseUrl,
  onStep: (step) => {
    if (armed && step === task.killAt) process.kill(process.pid, "SIGKILL");
  },
});
const { records, dataHash } = await store.loadRecords();
const rowsOf = (rows: readonly { readonly redress: string }[] = []) =>
  rows.filter(({ redress }) => redress.startsWith(task.prefix)).length;
say({
  opening: store.opening.map(({ code }) => code),
  batches: (await store.batches()).length,
  rows: [rowsOf(records.redresses), rowsOf(records.joints), rowsOf(records.fitted_items)],
  dataHash,
});
if (task.before.length > 0) {
  const { batch, counts, dataHash: hash } = await store.storeBatch(buildDrop(task.before));
  say({ batch, new: counts.new, unchanged: counts.unchanged, dataHash: hash });
}
if (task.next.length > 0) {
  armed = true;
  await store.storeBatch(buildDrop(task.next));
}
const hash = (await store.loadRecords()).dataHash;
await store.close();
say({ opening: ["closed"], batches: 0, rows: [], dataHash: hash });
