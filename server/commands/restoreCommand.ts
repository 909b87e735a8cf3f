import { restoreBackup } from "../storage/backup/restoreBackup.ts";
import { type Command, readOptions, storePlace, UsageError } from "./command.ts";
import { withStore } from "./withStore.ts";

/** `restore FILE`: a backup into an empty folder, the store made from it and compared. */
export const restoreCommand: Command = {
  name: "restore",
  usage: "restore FILE [--data FOLDER]",
  about:
    "Puts a backup into the data folder, which must not hold a store yet, makes the store from it and compares the data with those backed up.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { data: { type: "string" } });
    const [file, ...more] = positionals;
    if (file === undefined || more.length > 0) throw new UsageError("restore takes one file.");
    const { folder } = storePlace(values.data, terminal);
    const { entries, files, dataHash, madeAt } = await restoreBackup(file, folder);
    terminal.out(`Restored ${entries} entries of the journal and ${files.length} files, backed up at ${madeAt}.`);
    return withStore<0 | 1>(values.data, terminal, async (store) => {
      for (const [table, hash] of Object.entries(await store.tableHashes())) terminal.out(`${table}: ${hash}`);
      const now = (await store.loadRecords()).dataHash;
      if (dataHash !== null && now !== dataHash) {
        terminal.err(`The data differ from those backed up (${dataHash}, now ${now}).`);
        return 1;
      }
      terminal.out(`Data: ${now}${dataHash === null ? "" : " equal to those backed up"}`);
      return 0;
    });
  },
};
