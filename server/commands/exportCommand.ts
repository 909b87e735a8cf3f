import { tableNames } from "../../analysis/index.ts";
import { writeExport } from "../storage/export/writeExport.ts";
import { type Command, readOptions, UsageError } from "./command.ts";
import { withStore } from "./withStore.ts";

/** `export FOLDER`: everything stored, in files that any program opens. */
export const exportCommand: Command = {
  name: "export",
  usage: "export FOLDER [--data FOLDER]",
  about:
    "Writes everything stored into a new folder: a CSV file a table with a descriptor (datapackage.json). `import` of the folder brings it back.",
  async run(words, terminal) {
    const { values, positionals } = readOptions(words, { data: { type: "string" } });
    const [folder, ...more] = positionals;
    if (folder === undefined || more.length > 0) throw new UsageError("export takes one folder.");
    return withStore<0>(values.data, terminal, async (store) => {
      const { files, rows, valueHashes } = await writeExport(store, folder, terminal.clock().toISOString());
      for (const table of tableNames) terminal.out(`${table}: ${valueHashes[table]}`);
      terminal.out(`Wrote ${rows} rows in ${files.length} files to ${folder}.`);
      return 0;
    });
  },
};
