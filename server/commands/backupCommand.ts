import { join } from "node:path";
import { readBackup } from "../storage/backup/readBackup.ts";
import { writeBackup } from "../storage/backup/writeBackup.ts";
import { type Command, readOptions, storePlace, UsageError } from "./command.ts";

/** `backup FILE`: the journal with all bytes in one file, while the program runs or not. */
export const backupCommand: Command = {
  name: "backup",
  usage: "backup FILE [--data FOLDER]",
  about:
    "Writes the journal and every file dropped into one packed file (tar, gzip) and reads it back to check it. May be done while the program runs.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { data: { type: "string" } });
    const [file, ...more] = positionals;
    if (file === undefined || more.length > 0) throw new UsageError("backup takes one file.");
    const { folder } = storePlace(values.data, terminal);
    await writeBackup(join(folder, "journal"), file, terminal.clock().toISOString());
    const { entries, files, dataHash, lastHash } = await readBackup(file);
    terminal.out(`Wrote ${file}: ${entries} entries of the journal and ${files.length} files; every checksum holds.`);
    terminal.out(`Last entry: ${lastHash}`);
    if (dataHash !== null) terminal.out(`Data: ${dataHash}`);
    return 0;
  },
};
